import {readdirSync} from 'node:fs';
import path from 'node:path';
import {PassThrough} from 'node:stream';
import {describe, expect, test} from 'vitest';
import {openNamedSource} from '../../source/command-line/source-options.ts';
import {channelFigures} from '../../source/compare/channel-figures.ts';
import {withConfirmedEnds} from '../../source/fit/confirmed-ends.ts';
import {fitSettings} from '../../source/fit/fit.ts';
import {gatherSource} from '../../source/fit/gather-source.ts';
import {GatherWatch, stepMarkPrefix} from '../../source/fit/gather-watch.ts';
import {newSheetLines} from '../../source/fit/sheet-lines.ts';
import {runSession} from '../../source/session/run-session.ts';
import type {Sheet} from '../../source/sheet/sheet.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {runItems} from '../bringup/sample-run.ts';
import {memorySource} from '../gloves/memory-source.ts';

const io = {stdin: new PassThrough(), signal: new AbortController().signal};

/** What a recording shows, as `check`, `fit` and `compare` come by it. */
async function read(name: string, fingers?: Record<string, {min: number; max: number; inverted?: boolean}>) {
	const {source, session, sheet} = await openNamedSource(path.join('recordings', name), {}, io);
	const watch = new GatherWatch(undefined);
	const run = await runSession(source, {
		session: {...session, ...(fingers && {fingers})},
		watch: running => watch.follow(running),
	});
	return {...run, sheet, gathered: watch.gatherer.main!, snapshot: withConfirmedEnds(run.snapshot, watch.gatherer)};
}

/** Whole recordings of hands that move; the others add nothing to ranges but time. */
const names = readdirSync('recordings').filter(name =>
	/^(?:healthy|narrow|reversed|dropout|clipped|settings|excess|shared|bringup-good|wrong-full).*\.gbrec$/.test(name),
);

describe('the ends of a finger', () => {
	test.each(names)('%s: check, fit and compare tell the same', async name => {
		const run = await read(name);
		const fit = fitSettings(run.session, run.gathered);
		const figures = channelFigures(run);
		const {scale} = run.gathered.features;
		for (const {name: finger, low, high} of fit.fingers) {
			const shown = run.snapshot.channels.find(channel => channel.name === finger)!;
			expect([shown.usableLow, shown.usableHigh, shown.span], finger).toEqual([low, high, high - low]);
			const compared = figures.find(channel => channel.name === finger)!;
			expect((compared.lowPercentFs! / 100) * scale.fullScale + scale.railLow, finger).toBeCloseTo(low, 6);
			expect((compared.highPercentFs! / 100) * scale.fullScale + scale.railLow, finger).toBeCloseTo(high, 6);
		}
	});

	test.each(['healthy.gbrec', 'healthy-esp32.gbrec', 'settings-stale.gbrec', 'bringup-good.gbrec'])(
		'%s: a sheet with what fit gives is not stale by the same recording',
		async name => {
			const run = await read(name);
			const {fingers} = fitSettings(run.session, run.gathered);
			expect(fingers.length).toBeGreaterThan(3);
			const declared = Object.fromEntries(
				fingers.map(({name: finger, low, high, flip}) => [
					finger,
					{min: Math.round(low), max: Math.round(high), ...(flip !== null && {inverted: flip})},
				]),
			);
			const again = await read(name, declared);
			expect(again.snapshot.findings.filter(({code}) => code === 'settings-stale')).toEqual([]);
		},
	);
});

describe('the bring-up of a recording', () => {
	const name = 'bringup-good.gbrec';

	/** The recording's items, with a mark for every step as it was asked for, as `bringup --record` writes them. */
	async function items(marked: boolean): Promise<SourceItem[]> {
		const {source} = await openNamedSource(path.join('recordings', name), {}, io);
		const all: SourceItem[] = [];
		for await (const batch of source.batches()) all.push(...batch);
		if (!marked) return all;
		const asked: {t: number; mark: string}[] = [];
		await runItems(all, {
			isPrompted: true,
			onEvent: event => {
				if (event.kind === 'step') asked.push({t: event.t, mark: `${stepMarkPrefix}${event.step.id}`});
			},
		});
		for (const item of asked.reverse()) {
			const at = all.findIndex(({t}) => t >= item.t);
			all.splice(at < 0 ? all.length : at, 0, item);
		}

		return all;
	}

	test('tells the ends that check, fit and compare tell of it', async () => {
		const all = await items(true);
		const {result} = await runItems(all);
		const source = memorySource(all, {name, kind: 'recording'}, 64);
		const {session, gathered} = await gatherSource(source, {session: {fullScale: 1023}});
		const {fingers} = fitSettings(session, gathered);
		expect(fingers.length).toBe(5);
		for (const {name: finger, low, high} of fingers) {
			const reel = result.reels.find(each => each.name === finger)!;
			expect([reel.low, reel.high], finger).toEqual([low, high]);
		}
	});

	test('with marks has the ends of the whole hand alone: a cord that is pulled farther on the bench makes none', async () => {
		const ends = async (marked: boolean) => {
			const source = memorySource(await items(marked), {name, kind: 'recording'}, 64);
			const {session, gathered} = await gatherSource(source, {session: {fullScale: 1023}});
			return fitSettings(session, gathered).fingers.map(({high, low}) => high - low);
		};
		const [hand, all] = [await ends(true), await ends(false)];
		for (const [i, span] of hand.entries()) expect(span).toBeLessThanOrEqual(all[i]);
		expect(hand).not.toEqual(all);
	});
});

describe('new lines of the sheet', () => {
	test('settings-stale.gbrec: those of the fingers that no longer fit, with what was there', async () => {
		const run = await read('settings-stale.gbrec');
		const stale = run.snapshot.findings.filter(({code}) => code === 'settings-stale').map(({channel}) => channel);
		expect(stale.length).toBeGreaterThan(0);
		// The check confirms an end by three visits of the latest, fit by two of all: they tell the same to 1 % of the span.
		const {fingers} = fitSettings(run.session, run.gathered, run.sheet);
		for (const {channel, evidence} of run.snapshot.findings.filter(({code}) => code === 'settings-stale')) {
			const fit = fingers.find(({name}) => name === channel)!;
			expect(Math.abs(Number(evidence.lowCounts) - fit.low) / (fit.high - fit.low)).toBeLessThan(0.01);
			expect(Math.abs(Number(evidence.highCounts) - fit.high) / (fit.high - fit.low)).toBeLessThan(0.01);
		}

		const lines = newSheetLines(fitSettings(run.session, run.gathered, run.sheet), run.sheet!);
		for (const finger of stale) if (finger !== null) expect(lines).toContain(`name = "${finger}"`);
		expect(lines.filter(line => /^\[\[channel\]\] # was \d+ to \d+/.test(line)).length).toBeGreaterThan(0);
	});

	test('nothing where the sheet says what came', async () => {
		const run = await read('healthy.gbrec');
		const fit = fitSettings(run.session, run.gathered);
		const sheet: Sheet = {
			channels: fit.fingers.map(({name, low, high, flip}) => ({
				name,
				min: Math.round(low),
				max: Math.round(high),
				...(flip !== null && {inverted: flip}),
			})),
		};
		expect(newSheetLines(fit, sheet)).toEqual([]);
	});
});
