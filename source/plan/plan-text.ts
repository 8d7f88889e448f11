import {escapeText} from '../text/escape-text.ts';
import {foldTable} from '../text/fold-table.ts';
import {listText} from '../text/list-text.ts';
import {fixedText, measureText} from '../text/number-text.ts';
import {wrapText} from '../text/wrap-text.ts';
import type {Plan} from './make-plan.ts';
import type {ConverterPlan} from './plan-converter.ts';
import type {PlanFinding} from './plan-finding.ts';
import type {LinkPlan} from './plan-link.ts';
import type {PowerPlan, ServoPlan} from './plan-power.ts';
import type {ReelPlan} from './plan-reels.ts';

/** A plan as text of at most `width` columns, 40 to 100. */
export function planText(plan: Plan, title: string, width: number): string {
	const columns = Math.min(100, Math.max(40, Math.floor(width)));
	const sections: (readonly [string, readonly string[]])[] = [
		['Findings', findingLines(plan.findings, columns)],
		['Reels', reelLines(plan.reels, columns)],
		['Converter', plan.converter ? converterLines(plan.converter, plan.boardNotes, columns) : []],
		['Link', linkLines(plan.link, columns)],
		['Power', powerLines(plan.power, columns)],
		['Servos', plan.servos ? servoLines(plan.servos, columns) : []],
	];
	return [
		...wrapText(`Plan for ${title}${plan.board ? `: ${plan.board}` : ''}`, columns),
		...sections.filter(([, lines]) => lines.length > 0).flatMap(([heading, lines]) => ['', heading, ...lines]),
		'',
	]
		.map(line => escapeText(line))
		.join('\n');
}

function findingLines(findings: readonly PlanFinding[], columns: number): string[] {
	if (findings.length === 0) return ['  None: nothing speaks against this plan.'];
	return alike(findings).flatMap(group => {
		const [{status, summary, advice, caution}] = group;
		return [
			...wrapText(`${placeText(group)}${summary}.`, columns, `  ${status.padEnd(14)} `),
			...wrapText(advice, columns, `${' '.repeat(17)}→ `),
			...(caution ? wrapText(`Caution: ${caution}`, columns, ' '.repeat(17)) : []),
		];
	});
}

/** Findings that say the same of several channels, together: one spool that is too small is one mistake. */
function alike(findings: readonly PlanFinding[]): (readonly PlanFinding[])[] {
	const groups = new Map<string, PlanFinding[]>();
	for (const finding of findings) {
		const {status, code, summary, advice, caution} = finding;
		const key = JSON.stringify([status, code, summary, advice, caution]);
		groups.set(key, [...(groups.get(key) ?? []), finding]);
	}

	return [...groups.values()];
}

/** `line 14, index: `, `lines 14 and 18, index and middle: `; empty where the whole glove is meant. */
function placeText(group: readonly PlanFinding[]): string {
	const lines = [...new Set(group.flatMap(({line}) => line ?? []))];
	const channels = [...new Set(group.flatMap(({channel}) => channel ?? []))];
	const parts = [
		...(lines.length > 0 ? [`${lines.length === 1 ? 'line' : 'lines'} ${listText(lines)}`] : []),
		...(channels.length > 0 ? [listText(channels)] : []),
	];
	return parts.length > 0 ? `${parts.join(', ')}: ` : '';
}

function reelLines(reels: readonly ReelPlan[], columns: number): string[] {
	if (reels.length === 0) return [];
	const rows = reels.map(reel => [
		reel.channel,
		`${fixedText(reel.travelMm, 1)} mm${reel.travelFrom === 'measured' ? '' : '*'}`,
		reel.spoolDiameterMm === null ? '-' : `${reel.spoolDiameterMm} mm`,
		fixedText(reel.spoolTurns, 2),
		measureText(reel.trackShare === null ? null : reel.trackShare * 100, 0, '%'),
		fixedText(reel.spanCounts, 0),
		fixedText(reel.countsPerFingerDegree, 2),
		fixedText(reel.degreesPerCount, 3),
		measureText(reel.idealDiameterMm, 1, 'mm'),
	]);
	const heads = ['', 'travel', 'spool', 'turns', 'track', 'counts', 'counts/°', '°/count', 'for 80 %'];
	const notes = [
		'counts/° is per degree of the finger over all its joints, °/count of the spool.',
		...(reels.some(({travelFrom}) => travelFrom !== 'measured')
			? [
					'* From joint radii and joint ranges: measure the cord with a ruler, open hand to fist, before you print spools.',
				]
			: []),
	];
	return [
		...foldTable([heads, ...rows], {width: columns, indent: '  '}),
		...notes.flatMap(note => wrapText(note, columns, '  ')),
	];
}

function converterLines(converter: ConverterPlan, notes: readonly string[], columns: number): string[] {
	const {bits, fullScale, sourceOhms, sourceOhmsMost, limitFromMaker, settlingMicroseconds, samplingMicroseconds} =
		converter;
	const limit = `${sourceOhmsMost / 1000} kΩ ${limitFromMaker ? 'is the most it is made for' : 'is the usual limit; the maker gives none'}`;
	const texts = [
		`${bits} bit; frames carry 0 to ${fullScale}.`,
		`The pots drive it with at most ${fixedText(sourceOhms / 1000, 2)} kΩ; ${limit}.`,
		...(settlingMicroseconds !== null && samplingMicroseconds !== null
			? [
					`It settles to half a count in ${fixedText(settlingMicroseconds, 1)} µs at worst; it samples for ${fixedText(samplingMicroseconds, 0)} µs.`,
				]
			: samplingMicroseconds !== null
				? [`An acquisition time of ${samplingMicroseconds} µs is enough for these pots.`]
				: []),
		`One round of the analog channels takes about ${fixedText(converter.scanMicroseconds / 1000, 2)} ms.`,
		...(converter.straightCounts && (converter.straightCounts[0] > 0 || converter.straightCounts[1] < fullScale)
			? [
					`It is straight between ${converter.straightCounts[0]} and ${converter.straightCounts[1]} counts: set the spools so that the fingers stay there.`,
				]
			: []),
		...notes,
	];
	return texts.flatMap(text => wrapText(text, columns, '  '));
}

function linkLines(link: LinkPlan, columns: number): string[] {
	const {kind, baud, frameBytes, frameBytesFrom, targetRate, framesPerSecondMost, load, wireMs, notes} = link;
	const about = frameBytesFrom === 'estimate' ? 'about ' : '';
	const texts = [
		`${kind}${baud === null ? '' : ` at ${baud} baud`}: frames of ${about}${frameBytes} bytes, ${targetRate} per second wanted.`,
		...(load !== null && wireMs !== null && framesPerSecondMost !== null
			? [
					`One frame takes ${fixedText(wireMs, 2)} ms on the wire; ${Math.floor(framesPerSecondMost)} frames/s are the most; the line is ${fixedText(load * 100, 0)} % full.`,
				]
			: []),
		...notes,
	];
	return texts.flatMap(text => wrapText(text, columns, '  '));
}

function powerLines(
	{source, potsMa, currentMa, currentFrom, peakMa, batteryHours, cautions}: PowerPlan,
	columns: number,
): string[] {
	const about = currentFrom === 'estimate' ? 'about ' : '';
	const texts = [
		`From ${source}: ${about}${fixedText(currentMa, 0)} mA, of which the pots take ${fixedText(potsMa, 1)} mA${currentFrom === 'estimate' ? '; measure yours' : ''}.`,
		...(peakMa !== null && peakMa > currentMa ? [`Short peaks of up to ${peakMa} mA while the radio sends.`] : []),
		...(batteryHours === null ? [] : [`The battery lasts about ${fixedText(batteryHours, 1)} hours.`]),
		...cautions.map(caution => `Caution: ${caution}`),
	];
	return texts.flatMap(text => wrapText(text, columns, '  '));
}

function servoLines({count, supply, workingMa, stallMa, caution}: ServoPlan, columns: number): string[] {
	const texts = [
		`${count} servos, supply: ${supply}. ${fixedText(workingMa / 1000, 1)} A in work, ${fixedText(stallMa / 1000, 1)} A when all are held fast.`,
		`Caution: ${caution}`,
	];
	return texts.flatMap(text => wrapText(text, columns, '  '));
}
