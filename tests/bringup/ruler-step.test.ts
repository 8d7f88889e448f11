import {expect, test} from 'vitest';
import {bringUpText} from '../../source/bringup/bring-up-text.ts';
import {requireResult} from '../../source/bringup/finished-bring-up.ts';
import {runBringUp} from '../../source/bringup/run-bring-up.ts';
import {stepMarkPrefix} from '../../source/fit/gather-watch.ts';
import {bringUpPage} from '../../source/report/html/bring-up-page.ts';
import {simulationFromOptions} from '../../source/simulator/simulation-from-options.ts';
import {simulatorSource} from '../../source/sources/simulator-source.ts';
import type {Source} from '../../source/stream/source.ts';

/** A bring-up of one reel along a ruler, as its recording holds it: the marks tell what was asked. */
async function alongRuler(reel: readonly string[]) {
	const spec = simulationFromOptions({
		for: 62,
		rate: 50,
		reel,
		layout: 'thumb,index,middle,ring,little',
		script: 'rest 3s, ruler index 5mm, rest 9s',
	});
	const simulated = simulatorSource(spec, {paced: false, signal: new AbortController().signal});
	const source: Source = {
		info: simulated.info,
		close: () => simulated.close(),
		async *batches() {
			yield [{t: 0, mark: `${stepMarkPrefix}rest`}];
			let isMarked = false;
			for await (const batch of simulated.batches()) {
				const at = isMarked ? -1 : batch.findIndex(({t}) => t > 2.8);
				if (at < 0) {
					yield batch;
					continue;
				}

				isMarked = true;
				yield [...batch.slice(0, at), {t: batch[at].t, mark: `${stepMarkPrefix}ruler index`}, ...batch.slice(at)];
			}
		},
	};
	const hints: string[] = [];
	const run = await runBringUp(source, {
		isPrompted: false,
		onEvent: event => {
			if (event.kind === 'hint') hints.push(event.text);
		},
		rulerMm: 5,
		sheet: {channels: [], reel: {electricalAngleDeg: spec.glove.fingers[1].electricalAngleDegrees}},
	});
	const {result} = run;
	const index = result!.reels.find(({name}) => name === 'index')!;
	const accepted = result!.acceptance.find(({name}) => name === 'index')!;
	return {
		hints,
		page: bringUpPage(requireResult(run)),
		index,
		accepted,
		text: bringUpText(result!, 'x'),
		spool: spec.glove.fingers[1].spoolDiameterMm,
	};
}

test('an audio pot fails along the ruler, which nothing else shows', async () => {
	const {hints, page, index, accepted, text} = await alongRuler(['index:taper=audio']);
	expect(index.curve).toMatchObject({taper: 'audio taper', ninePoints: expect.any(Array)});
	expect(accepted.verdict).toBe('fail');
	expect(accepted.reasons.join()).toContain('exchange the pot for a linear one');
	expect(hints.slice(0, 3)).toEqual([
		'1. mark read, 0 mm: on to the next one.',
		'2. mark read, 5 mm: on to the next one.',
		'3. mark read, 10 mm: on to the next one.',
	]);
	expect(page).toContain('aria-label="Readings of index along the ruler"');
	expect(page).toMatch(/<figcaption>index: audio taper, linearity/);
	expect(text).toMatch(/^index: ▁.*█ audio taper/m);
});

test("a straight pot passes along the ruler, and its spool is the simulator's", async () => {
	const {index, accepted, spool} = await alongRuler([]);
	const {curve} = index;
	if (curve === null || 'reason' in curve) throw new Error('no curve');
	expect(curve.linearityPercent).toBeLessThan(3);
	expect(curve.slopeRatio).toBeGreaterThan(0.8);
	expect(curve.slopeRatio).toBeLessThan(1.25);
	expect(Math.abs(curve.spoolDiameterMm! / spool - 1)).toBeLessThan(0.05);
	expect(accepted.reasons.join()).not.toContain('taper');
});
