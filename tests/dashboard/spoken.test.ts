import {describe, expect, it} from 'vitest';
import type {GuideView} from '../../source/bringup/guide.ts';
import {news, nothingSaid, type Said, spokenPage} from '../../source/dashboard/spoken.ts';
import {initialViewState} from '../../source/dashboard/view-state.ts';
import {faulty, healthy, makeFinding, makePicture, withChannel} from './sample-picture.ts';

const guide: GuideView = {
	step: 3,
	steps: 19,
	prompt: 'Index reel: pull its cord.',
	asked: 'index',
	count: 0,
	need: 3,
	marks: 0,
	hint: null,
	moved: null,
	mayTake: false,
	last: 'Before: fine',
	isOver: false,
	answers: new Map(),
};

const view = initialViewState({mode: 'live', gloves: 1});
const saidAll: Said = news(makePicture(healthy), nothingSaid, 'overview').said;

describe('news', () => {
	it('tells each thing once', () => {
		const first = news(makePicture(faulty), nothingSaid, 'overview');
		expect(first.lines).toContainEqual(expect.stringMatching(/^Frames arrive: thumb, index/));
		expect(first.lines).toContainEqual(expect.stringMatching(/new failure: ring floating-input, since .* Next: /));
		expect(news(makePicture(faulty), first.said, 'overview').lines).toEqual([]);
	});

	it('tells when a finding is over, when it comes back, and of marks and events', () => {
		const open = {...healthy, findings: [makeFinding()]};
		const over = {...healthy, findings: [makeFinding({to: 20})]};
		const back = {
			...healthy,
			findings: [
				makeFinding({
					spans: [
						[10, 20],
						[25, null],
					],
				}),
			],
		};
		const one = news(makePicture(open), saidAll, 'overview');
		const two = news(makePicture(over), one.said, 'overview');
		expect(two.lines).toEqual(['0:20 over: ring floating-input.']);
		expect(news(makePicture(back), two.said, 'overview').lines).toEqual([expect.stringContaining('new failure')]);
		const more = {...healthy, events: [{t: 3, event: 'port-lost', detail: 'a\u0007'}], marks: [{t: 4, mark: 'reel'}]};
		expect(news(makePicture(more), saidAll, 'overview').lines).toEqual(['0:03 port-lost, a\\x07', '0:04 mark: reel']);
	});

	it('tells that nothing arrives, and that data is back', () => {
		const silent = news(makePicture(healthy, {silentFor: 3}), saidAll, 'overview');
		expect(silent.lines).toEqual([expect.stringContaining('silent: nothing arrives')]);
		expect(news(makePicture(healthy), silent.said, 'overview').lines).toEqual([
			expect.stringContaining('data arrives again'),
		]);
	});

	it('tells what moves and what is pressed on the bench page only', () => {
		const button = {pressed: true, presses: 2, shortestPressMs: null, bounces: 0};
		const busy = withChannel(withChannel(healthy, 'ring', {activity: 0.9, now: 512}), 'button-1', {
			button,
			activity: 0,
		});
		expect(news(makePicture(busy), saidAll, 'overview').lines).toEqual([]);
		const picture = makePicture(busy, {pulled: 'ring'});
		expect(news(picture, {...saidAll, moving: null, pressed: new Set()}, 'bench').lines).toEqual([
			expect.stringMatching(/ring moved, 512, 50 %\.$/),
			expect.stringMatching(/button-1 in, 2 presses\.$/),
		]);
	});
});

describe('news of a bench', () => {
	it('tells what is proven there, and what is lost on every page', () => {
		const waiting = withChannel(healthy, 'ring', {state: 'waiting'});
		const {said} = news(makePicture(waiting), saidAll, 'bench');
		expect(news(makePicture(healthy), said, 'bench').lines).toEqual([expect.stringMatching(/ring is proven\.$/)]);
		const lost = makePicture(withChannel(healthy, 'ring', {state: 'lost'}));
		expect(news(lost, said, 'overview').lines).toEqual([expect.stringMatching(/LOST: ring was proven/)]);
	});

	it('tells what a bring-up asks for, and what does not fit, each once', () => {
		const ask = (hint: string | null) => makePicture(healthy, {guide: {...guide, hint}});
		const asked = news(ask(null), saidAll, 'bench');
		expect(asked.lines).toEqual(['Before: fine', 'Index reel: pull its cord.']);
		expect(news(ask(null), asked.said, 'bench').lines).toEqual([]);
		expect(news(ask('RING moved, INDEX was asked.'), asked.said, 'bench').lines).toEqual([
			'RING moved, INDEX was asked.',
		]);
	});
});

describe('spokenPage', () => {
	it('has a sentence for every channel', () => {
		const lines = spokenPage(makePicture(healthy), view);
		for (const {name} of healthy.channels)
			expect(lines).toContainEqual(expect.stringMatching(new RegExp(`^${name} .*\\.$`)));
	});

	it('tells findings, link and keys', () => {
		expect(spokenPage(makePicture({...healthy, findings: []}), {...view, page: 'findings'})).toEqual([
			'Nothing found.',
		]);
		expect(spokenPage(makePicture(faulty), {...view, page: 'link'})[0]).toMatch(
			/^100 frames a second, jitter .* 0 bad lines/,
		);
		expect(spokenPage(makePicture(healthy), {...view, page: 'keys'}).join('\n')).toContain('ends');
	});
});
