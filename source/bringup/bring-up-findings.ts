import type {Status} from '../faults/fault-code.ts';
import {type FaultCode, findFault} from '../faults/registry.ts';
import type {Channel} from '../framing/layout.ts';
import {itemAt} from '../item-at.ts';
import type {Sheet} from '../sheet/sheet.ts';
import type {Assignment} from './assign-channels.ts';
import type {ReelFigures} from './reel-figures.ts';
import type {StickFigures} from './stick-figures.ts';

/** A finding as the routine reports it; the channel is named for what it really is. */
export type BringUpFinding = {
	readonly code: string;
	readonly channel: string | null;
	readonly status: Status;
	readonly confidence: number;
	readonly summary: string;
	/** Next thing to measure, and what it should read. */
	readonly advice: string;
	/** How to mend it. */
	readonly remedy: string;
	/** Where a step can hurt; null without. */
	readonly caution: string | null;
};

/** The routine has done the first check of these itself: which channel moves. */
const firstCheckDone: ReadonlySet<string> = new Set<FaultCode>(['swapped-channels', 'stick-swapped']);

/** What only a guided routine can find: channels on other fingers, axes exchanged, readings that go the wrong way. */
export function bringUpFindings(
	channels: readonly Channel[],
	fingers: readonly Assignment[],
	buttons: readonly Assignment[],
	reels: readonly ReelFigures[],
	stick: StickFigures | null,
	sheet: Sheet | undefined,
): BringUpFinding[] {
	const declared = (name: string) => sheet?.channels.find(channel => channel.name === name)?.inverted;
	return [
		...[...fingers, ...buttons].filter(isSwapped).map(each => {
			const {name, column, confidence} = each;
			const action = name.startsWith('button') ? 'pressed' : 'moved';
			const sent = itemAt(channels, column).name;
			return finding(
				'swapped-channels',
				name,
				confidence,
				`${name} was ${action}; the channel called ${sent} answered.`,
			);
		}),
		...reels.flatMap(reel => reversedReel(reel, reels, declared(reel.name))),
		...(stick ? stickFindings(stick, declared) : []),
	];
}

function isSwapped({isKnown, column, ownColumn}: Assignment): boolean {
	return isKnown && column !== ownColumn;
}

/** Against what the sheet says, or, where it says nothing, against most of the other fingers. */
function reversedReel(reel: ReelFigures, all: readonly ReelFigures[], inverted: boolean | undefined): BringUpFinding[] {
	// What never answered by itself may be no finger's reading at all.
	if (reel.direction === 0 || !reel.isKnown) return [];
	const word = reel.direction > 0 ? 'rises' : 'falls';
	if (inverted !== undefined) {
		if (inverted === reel.direction < 0) return [];
		return [
			finding(
				'reversed-sensor',
				reel.name,
				0.95,
				`${reel.name} ${word} as the finger bends; the sheet says it ${inverted ? 'falls' : 'rises'}.`,
			),
		];
	}

	const others = all.filter(({name, direction}) => name !== reel.name && direction !== 0);
	const along = others.filter(({direction}) => direction === reel.direction).length;
	if (others.length < 2 || 2 * along >= others.length) return [];
	return [
		finding(
			'reversed-sensor',
			reel.name,
			0.9,
			`${reel.name} ${word} as the finger bends; ${others.length - along} of the ${others.length} others ${reel.direction > 0 ? 'fall' : 'rise'}.`,
		),
	];
}

function stickFindings(stick: StickFigures, declared: (name: string) => boolean | undefined): BringUpFinding[] {
	const {x, y} = stick;
	const found: BringUpFinding[] = [];
	if (isSwapped(x) || isSwapped(y)) {
		const confidence = Math.max(x.confidence, y.confidence);
		found.push(
			finding(
				'stick-swapped',
				'stick-x',
				confidence,
				'Pushed sideways the stick moves stick-y, pushed up and down stick-x.',
			),
		);
	}

	for (const axis of [x, y]) {
		const expected = declared(axis.name) ? -1 : 1;
		if (axis.direction === 0 || axis.direction === expected) continue;
		const way = axis.name === 'stick-x' ? 'right' : 'towards you';
		const word = axis.direction > 0 ? 'rises' : 'falls';
		found.push(
			finding(
				'stick-reversed',
				axis.name,
				axis.confidence,
				`${axis.name} ${word} when the stick is pushed ${way}; ${declared(axis.name) === undefined ? 'by convention' : 'by the sheet'} it ${expected > 0 ? 'rises' : 'falls'}.`,
			),
		);
	}

	return found;
}

function finding(code: FaultCode, channel: string, confidence: number, summary: string): BringUpFinding {
	const fault = findFault(code)!;
	const {measure, expect} = itemAt(fault.measurements, firstCheckDone.has(code) ? 1 : 0);
	return {
		code,
		channel,
		status: fault.status,
		confidence,
		summary,
		advice: `${measure} — ${expect}`,
		...mending(code),
	};
}

/** What the catalogue says about mending, for findings of the routine and of the session alike. */
export function mending(code: string): Pick<BringUpFinding, 'remedy' | 'caution'> {
	const fault = findFault(code);
	return {remedy: fault?.remedy[0] ?? '', caution: fault?.caution ?? null};
}
