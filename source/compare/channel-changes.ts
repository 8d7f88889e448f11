import {figureText} from '../text/number-text.ts';
import type {ChannelFigures} from './channel-figures.ts';
import type {ComparedChannel, Side} from './comparison.ts';

/**
 * Two hands, or one hand on two days, differ by some 10 % in how far they close (common practice): a span counts as
 * changed beyond a fifth, an end beyond 5 % FS.
 */
const spanRatio = 1.2;
const endPercentFs = 5;

/** Noise counts as changed by half as much again (a median over many rests moves by less), and from 0.1 % FS on. */
const noiseRatio = 1.5;
const leastNoisePercentFs = 0.1;

/** Board clocks are within half a percent of each other; a tenth is a change of the firmware or the link. */
const rateRatio = 1.1;

type Change = {readonly weight: number; readonly text: string};

/** What differs between the sessions by more than chance, in sentences, the largest change first. */
export function channelChanges(channels: readonly ComparedChannel[], a: Side, b: Side): string[] {
	const changes: Change[] = [
		...channels.flatMap(({name, a: before, b: after}) => {
			if (before === null || after === null) {
				return [{weight: 100, text: `${name} is only in ${before === null ? 'B' : 'A'}.`}];
			}

			return [...reversed(name, before, after), ...noise(name, before, after), ...travel(name, before, after)];
		}),
		...rate(a, b),
	];
	if (a.fullScale !== b.fullScale) {
		changes.push({
			weight: 50,
			text: `Full scale is ${figureText(a.fullScale)} in A and ${figureText(b.fullScale)} in B.`,
		});
	}

	return changes.sort((one, other) => other.weight - one.weight).map(({text}) => text);
}

function reversed(name: string, a: ChannelFigures, b: ChannelFigures): Change[] {
	return a.direction * b.direction === -1
		? [
				{
					weight: 1000,
					text: `${name} goes ${b.direction > 0 ? 'with' : 'against'} the other fingers in B, ${a.direction > 0 ? 'with' : 'against'} them in A.`,
				},
			]
		: [];
}

function noise(name: string, a: ChannelFigures, b: ChannelFigures): Change[] {
	const before = a.noisePercentFs;
	const after = b.noisePercentFs;
	if (before === null || after === null || Math.max(before, after) < leastNoisePercentFs) return [];
	const ratio = ratioOf(before, after);
	if (ratio < noiseRatio) return [];
	return [
		{
			weight: ratio,
			text: `${name}'s noise ${after > before ? 'rose' : 'fell'} from ${figureText(before)} to ${figureText(after)} % FS.`,
		},
	];
}

function travel(name: string, a: ChannelFigures, b: ChannelFigures): Change[] {
	if (a.spanPercentFs === null || b.spanPercentFs === null) return [];
	const ratio = ratioOf(a.spanPercentFs, b.spanPercentFs);
	if (ratio >= spanRatio) {
		const word = b.spanPercentFs > a.spanPercentFs ? 'grew' : 'shrank';
		return [
			{
				weight: ratio,
				text: `${name}'s span ${word} from ${figureText(a.spanPercentFs)} to ${figureText(b.spanPercentFs)} % FS.`,
			},
		];
	}

	const low = (b.lowPercentFs ?? 0) - (a.lowPercentFs ?? 0);
	const high = (b.highPercentFs ?? 0) - (a.highPercentFs ?? 0);
	const shift = Math.abs(low) > Math.abs(high) ? low : high;
	if (Math.abs(shift) < endPercentFs) return [];
	return [
		{
			weight: 1 + Math.abs(shift) / 10,
			text: `${name}'s range moved ${shift > 0 ? 'up' : 'down'} by ${figureText(Math.abs(shift))} % FS.`,
		},
	];
}

function rate(a: Side, b: Side): Change[] {
	if (a.framesPerSecond === null || b.framesPerSecond === null) return [];
	const ratio = ratioOf(a.framesPerSecond, b.framesPerSecond);
	if (ratio < rateRatio) return [];
	const word = b.framesPerSecond > a.framesPerSecond ? 'rose' : 'fell';
	return [
		{
			weight: ratio,
			text: `The rate ${word} from ${figureText(a.framesPerSecond)} to ${figureText(b.framesPerSecond)} frames/s.`,
		},
	];
}

/** The larger over the smaller; what is next to nothing counts as a hundredth of a percent. */
function ratioOf(one: number, other: number): number {
	return Math.max(one, other, 0.01) / Math.max(Math.min(one, other), 0.01);
}
