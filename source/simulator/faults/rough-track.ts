import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';

/** Counted as movement by the definition: 5 % of the finger's span within half a second. */
const movesOfSpanPerSecond = 0.1;

/** Least height of a kink by the definition: shares of full scale and of the span, rest noises; and what makes it plain. */
const ofFullScale = 0.015;
const ofSpan = 0.05;
const noises = 6;
const plainly = [1.3, 2.2] as const;

/**
 * A kink shows beside a moving reading only if its neighbours lie within half of it, two steps apart; with room for noise
 * five steps. A higher leap than this share of full scale would be an open contact's.
 */
const steps = 5;
const most = 0.17;

/** A kink near an end is cut off: outputs this near to one are left alone. */
const nearEnd = 0.04;

/** Worn spots are this wide, as shares of the finger's span, and so many. */
const spotShare = 0.08;
const spots = [0.25, 0.45, 0.6, 0.75];

/** Grains wait for a worn spot, which is met in two thirds of the way. */
const wornMargin = 2;

/** Of the other grains one in two waits for a place where it shows. */
const dirtMargin = 1;

/** A wiper that crackles on its track while it travels (rotational noise, IEC 60393; check-values H-real). */
export const roughTrack: FaultModel = {
	code: 'rough-track',
	scope: 'finger',
	variants: ['dirt', 'worn'],
	install(rig, fault) {
		const {random, severity, window, index, variant, channel} = fault;
		const node = rig.channels[index];
		const span = rig.spanShare(index);
		const rest = rig.restShare(index);
		const direction = node.finger?.direction ?? 1;
		// Kinks a minute of movement; more than the limit, since some wait for a place where they show.
		const perMinute = graded(
			severity,
			{mustNot: 15, must: 60, gross: 240},
			variant === 'worn' ? wornMargin : dirtMargin,
		);
		const least = Math.max(ofFullScale / node.gain, ofSpan * span, noises * rig.noiseShare);
		const next = (): number => (60 / perMinute) * random.uniform(0.6, 1.4);
		let movedFor = 0;
		let due = next() / 2;
		let until = Number.NEGATIVE_INFINITY;
		let offset = 0;
		let before = Number.NaN;
		let beforeAt = 0;
		node.volts.push((t, volts) => {
			const frame = rig.frameSeconds;
			const step = Math.abs(volts - before);
			const seconds = t - beforeAt;
			before = volts;
			beforeAt = t;
			if (!window.has(t)) return volts;
			if (t < until) return volts + offset;
			if (!(step >= movesOfSpanPerSecond * span * seconds) || !(seconds > 0)) return volts;
			movedFor += seconds;
			const way = ((volts - rest) * direction) / span;
			const isWorn = variant !== 'worn' || spots.some(spot => Math.abs(way - spot) <= spotShare);
			if (movedFor < due || !isWorn) return volts;
			const height = Math.max(least, steps * step * (frame / seconds)) * random.uniform(...plainly);
			offset = random.chance(0.5) ? height : -height;
			const level = node.outputShare(volts + offset);
			// Where it would not show, the next grain will do.
			if (height * node.gain > most || level < nearEnd || level > 1 - nearEnd) return volts;
			due += next();
			fault.acts(t);
			until = t + frame * (random.chance(0.7) ? 0.6 : 1.6);
			return volts + offset;
		});
		// In strokes that are quick for the frame rate hardly a kink shows.
		const usual = (span * node.gain * rig.frameSeconds) / rig.glove.hand.closeSeconds;
		return {
			must: !rig.smooths && plainly[0] * steps * usual <= most,
			may: [
				{code: 'excess-noise', channel},
				{code: 'dropout', channel},
			],
		};
	},
};
