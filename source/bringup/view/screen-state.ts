import {cordCaution} from '../../faults/cautions.ts';
import {figureText} from '../../report/figures-text.ts';
import type {Session} from '../../session/session.ts';
import {answerText, shortAnswer} from '../answer-text.ts';
import type {BringUp} from '../bring-up.ts';
import {promptOf, type Step} from '../steps.ts';
import type {ScreenState} from './screen-lines.ts';

/** A stream is understood within a second or two. */
const patienceSeconds = 3;

/** What the screen shows of a routine and its session; `bringUp` undefined before the first frame. */
export function screenState(source: string, session: Session | undefined, bringUp: BringUp | undefined): ScreenState {
	const common = {source, framesPerSecond: session?.features.framesPerSecond ?? null, caution: cordCaution};
	if (bringUp === undefined || bringUp.features.history.count === 0) {
		const hint = session === undefined ? null : waitingHint(session);
		return {...common, stepNumber: 0, stepCount: 0, prompt: null, count: 0, need: 0, hint, last: null, bars: []};
	}

	const {features, records, steps, step} = bringUp;
	const {layout, history, analog, scale, placeOf} = features;
	const {channels} = layout;
	const last = records[records.length - 1];
	const answerFor = (name: string): string => {
		const record =
			records.find(({id}) => id === `finger ${name}`) ??
			records.find(({id}) => id === `reel ${name}`) ??
			records.find(({id}) => id === name);
		return record ? shortAnswer(record, channels, scale.fullScale) : '';
	};

	const bars = channels
		.filter(({role}) => role === 'finger' || role === 'stick' || role === 'button')
		.map(({name, index, role}) => {
			const reading = history.count > 0 ? history.values[history.base(history.count - 1) + index] : Number.NaN;
			const place = placeOf[index];
			const isButton = role === 'button';
			const share = (level: number) => (level - scale.lowOf(place)) / scale.fullScale;
			return {
				name,
				now: isButton ? Math.min(1, reading) : share(reading),
				low: isButton ? 0 : share(analog.spans.low[place]),
				high: isButton ? 0 : share(analog.spans.high[place]),
				answer: answerFor(name),
				isAsked: isAsked(step, name),
			};
		});
	return {
		...common,
		stepNumber: records.length + 1,
		stepCount: steps.length,
		prompt: step === undefined ? 'All steps are done.' : promptOf(step),
		count: bringUp.count,
		need: bringUp.need,
		hint: bringUp.hint,
		last: last ? `Before: ${answerText(last, channels, scale.fullScale)}` : null,
		bars,
	};
}

/** Bytes without a frame among them are another matter than none. */
function waitingHint({link, t}: Session): string | null {
	if (link.bytes === 0 || t < patienceSeconds) return null;
	return `${figureText(link.bytes)} bytes came, but no frame among them: q, then glovebench check tells why.`;
}

function isAsked(step: Step | undefined, name: string): boolean {
	if (step === undefined) return false;
	if ('channel' in step) return step.channel === name;
	if (step.kind === 'stick-side' || step.kind === 'stick-around') return name.startsWith('stick-');
	return false;
}
