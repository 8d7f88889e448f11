import {describe, expect, it} from 'vitest';
import {linkJson} from '../../source/report/check-json.ts';
import {type FollowEvent, FollowEvents} from '../../source/report/follow-events.ts';
import {followText} from '../../source/report/follow-text.ts';
import type {Snapshot} from '../../source/session/snapshot.ts';
import {expectToKeepTo} from './published-schema.ts';
import {sampleFinding, sampleInfo, sampleSnapshot} from './sample-run.ts';

/** Feeds snapshots one after the other and gives the events of each. */
function follow(...changes: Partial<Snapshot>[]): FollowEvent[][] {
	const events = new FollowEvents();
	const {layout} = sampleSnapshot();
	return changes.map(change => events.update({snapshot: () => sampleSnapshot({layout, ...change})}));
}

const names = (events: FollowEvent[]) => events.map(({event}) => event);

describe('events of a followed source', () => {
	it('are opened, updated and closed findings, each once', () => {
		const finding = sampleFinding();
		const changed = sampleFinding({confidence: 0.9});
		const over = sampleFinding({confidence: 0.9, to: 9.5, spans: [[2.1, 9.5]]});
		const steps = follow(
			{t: 4.3},
			{t: 4.4, findings: [finding]},
			{t: 4.5, findings: [finding]},
			{t: 5, findings: [changed]},
			{t: 5.1, findings: [changed]},
			{t: 9.5, findings: [over]},
			{t: 9.6, findings: [over]},
		);
		expect(steps.map(names)).toEqual([
			['layout', 'link'],
			['finding-opened'],
			[],
			['finding-updated', 'link'],
			[],
			['finding-closed', 'link'],
			[],
		]);
		expect(steps[5][0]).toEqual({event: 'finding-closed', t: 9.5, finding: over});
	});

	it('tell changed figures at the next whole second, not ten times a second', () => {
		const steps = follow(
			{t: 4.9, findings: [sampleFinding()]},
			{t: 5, findings: [sampleFinding()]},
			{t: 5.1, findings: [sampleFinding({confidence: 0.85})]},
			{t: 5.2, findings: [sampleFinding({confidence: 0.9})]},
			{t: 6, findings: [sampleFinding({confidence: 0.9})]},
		).map(names);
		expect(steps.slice(2)).toEqual([[], [], ['finding-updated', 'link']]);
	});

	it('tell that another finding is the first to care for, and that one has been mended', () => {
		const over = sampleFinding({to: 4.8, spans: [[2.1, 4.8]]});
		const steps = follow(
			{t: 4.4, findings: [sampleFinding()]},
			{t: 5, findings: [sampleFinding({first: true})]},
			{t: 5.5, findings: [over]},
			{t: 6, findings: [{...over, mended: true}]},
		).map(names);
		expect(steps.slice(1)).toEqual([['finding-updated', 'link'], ['finding-closed'], ['finding-updated', 'link']]);
	});

	it('tell each further stretch of a finding that comes and goes', () => {
		const once = sampleFinding({to: 3, spans: [[2.1, 3]]});
		const again = sampleFinding({
			spans: [
				[2.1, 3],
				[8, null],
			],
		});
		const steps = follow({t: 3.2, findings: [once]}, {t: 8.4, findings: [again]}).map(names);
		expect(steps).toEqual([
			['layout', 'finding-opened', 'finding-closed', 'link'],
			['finding-opened', 'link'],
		]);
	});

	it('tell a finding that turned out to be something else', () => {
		const [, second] = follow({t: 4.4, findings: [sampleFinding()]}, {t: 4.5, findings: []});
		expect(second).toEqual([{event: 'finding-withdrawn', t: 4.5, code: 'floating-input', channel: 'ring'}]);
	});

	it('pass on marks and what happened to the source, once', () => {
		const events = [{t: 1.5, event: 'port-lost', detail: 'unplugged'}];
		const marks = [{t: 1.2, mark: 'new cord'}];
		const [first, second] = follow({t: 1.6, events, marks}, {t: 1.7, events, marks});
		expect(first).toContainEqual({event: 'source-event', t: 1.5, what: 'port-lost', detail: 'unplugged'});
		expect(first).toContainEqual({event: 'mark', t: 1.2, mark: 'new cord'});
		expect(second).toEqual([]);
	});

	it('are what the published schema describes', () => {
		const events = new FollowEvents();
		const all = [
			events.start(sampleInfo),
			...follow(
				{
					t: 4.4,
					findings: [sampleFinding()],
					events: [{t: 1, event: 'dtr'}],
					marks: [{t: 1.2, mark: 'new cord'}],
				},
				{t: 5, findings: []},
			).flat(),
			events.end(sampleSnapshot()),
		];
		expect(new Set(names(all))).toEqual(
			new Set(['start', 'layout', 'source-event', 'mark', 'finding-opened', 'finding-withdrawn', 'link', 'end']),
		);
		for (const event of all) {
			expectToKeepTo('check-events', JSON.parse(JSON.stringify(event)));
		}
	});

	it('read as lines for people, one each, the link every ten seconds', () => {
		const finding = sampleFinding();
		const link = linkJson(sampleSnapshot().link);
		expect(followText({event: 'finding-opened', t: 4.4, finding}, false)).toEqual([
			`    4.4 s  ring: floating-input (failure). ${finding.summary}`,
		]);
		expect(followText({event: 'link', t: 9, link}, false)).toEqual([]);
		expect(followText({event: 'link', t: 10, link}, false)).toHaveLength(1);
		expect(followText({event: 'mark', t: 10, mark: '\u001b[2J'}, true)).toEqual(['   10.0 s  mark "\\x1b[2J"']);
	});
});
