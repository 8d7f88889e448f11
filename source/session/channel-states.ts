import {ask, refused} from '../faults/ask.ts';
import {excessNoise} from '../faults/excess-noise.ts';
import {floatingInput} from '../faults/floating-input.ts';
import {isProvenAside} from '../faults/gates/fingers.ts';
import type {Features} from '../features/features.ts';
import type {Channel, ChannelRole} from '../framing/layout.ts';
import {provingWays} from './channel-moves.ts';
import type {FindingBook} from './finding-book.ts';
import {noteRefusals, type Question, questionsAbout, refusesAgain} from './places.ts';

/** Check-values D2: one word for each channel, the same on screen, in text and JSON. */
export type ChannelState = 'spare' | 'learning' | 'lost' | 'open' | 'faulty' | 'proven' | 'waiting';

/** What is somebody's to move. */
const judged: ReadonlySet<ChannelRole> = new Set(['finger', 'stick', 'button']);

/** What the session holds each channel for: wired and proven, open, or neither yet. */
export class ChannelStates {
	/** Looks at the channels after a block has closed, before any other check is asked. */
	update(features: Features, book: FindingBook, asksAll = false): void {
		const channels = features.analog.columns.length;
		const questions = questionsAbout(floatingInput, features);
		for (let a = 0; a < channels; a++) {
			const isOpen = features.open[a] === 1;
			const {state, way} = askOpen(features, a, asksAll || isOpen ? undefined : questions[a]);
			// What is picked up comes from no finger. A level that wanders is what a proof tells from one.
			if ((way === 'noise' || way === 'pickup') && features.proven[a] === 0) features.proof.startAnew(a, features.now);
			const shows = state === 'raised' || state === 'held';
			features.open[a] = shows || (isOpen && staysOpen(features, a)) ? 1 : 0;
			features.handAt(a)?.setOut(a, features.open[a] === 1 || features.learning[a] === 1);
			features.troubled[a] = book.names(features.analogName(a)) ? 1 : 0;
		}
		for (let a = 0; a < channels; a++) if (this.isProven(features, book, a)) features.proven[a] = 1;
	}

	/** The state of a channel; `book` knows what is found on it. */
	of(features: Features, channel: Channel, book: FindingBook): ChannelState {
		if (!judged.has(channel.role)) return 'spare';
		const place = features.placeOf[channel.index];
		if (channel.role === 'button') {
			if (book.troubles(channel.name)) return 'faulty';
			const button = features.buttons[place];
			return button.isSpare ? 'spare' : button.isProven ? 'proven' : 'waiting';
		}
		if (features.learning[place] === 1) return 'learning';
		if (features.open[place] === 1) return features.proven[place] === 1 ? 'lost' : 'open';
		if (book.troubles(channel.name)) return 'faulty';
		return features.proven[place] === 1 ? 'proven' : 'waiting';
	}

	/** Whether a channel has been proven by what it did after a time, seconds: there and back twice, or two presses. */
	provenSince(features: Features, channel: Channel, since: number): boolean {
		const place = features.placeOf[channel.index];
		if (channel.role === 'button') return features.buttons[place].provenSince(since);
		if (features.proven[place] === 0) return false;
		if (channel.role === 'stick')
			return features.epochFrom >= since || features.stick?.provenSince(place, since) === true;
		return features.epochFrom >= since || features.proof.waysSince(place, since) >= features.proof.needed;
	}

	/** Proven now (check-values D2); it stays so for the epoch. */
	private isProven(features: Features, book: FindingBook, a: number): boolean {
		if (features.proven[a] === 1) return false;
		if (features.open[a] === 1 || features.learning[a] === 1) return false;
		if (features.handAt(a) === undefined) return features.stick?.isProven(a) === true;
		if (provingWays(features, a) < features.proof.needed) return false;
		const {name} = features.layout.channels[features.analog.columns[a]];
		const noisy = ask(excessNoise, features, a, book.isOpenOn(excessNoise.code, name));
		return noisy.state !== 'raised' && noisy.state !== 'held';
	}
}

/** Whether a channel shows what an open pin shows; a question that refuses as it did before is not asked again. */
function askOpen(features: Features, a: number, question: Question | undefined): ReturnType<typeof ask> {
	if (question === undefined) return ask(floatingInput, features, a, features.open[a] === 1);
	const answer = refusesAgain(question, features)
		? refused
		: ask(floatingInput, features, a, false, question.refusedBy);
	noteRefusals(question);
	return answer;
}

/** Hum that beats away wires no pin: what was never proven stays open until it moves by itself or goes with the hand. */
function staysOpen(features: Features, a: number): boolean {
	const {proven, proof, follow, ownTravel} = features;
	const goesAlong = (follow.follows(a) || follow.mayFollow(a)) && !ownTravel.isBorrowed(a);
	return proven[a] === 0 && Number.isNaN(proof.asideAt[a]) && !goesAlong && !isProvenAside(features, a);
}
