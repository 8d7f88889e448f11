import {fileURLToPath} from 'node:url';
import {faults} from '../../source/faults/registry.ts';
import {whyRows} from '../../source/session/check-rows.ts';
import {runSession} from '../../source/session/run-session.ts';
import type {Snapshot} from '../../source/session/snapshot.ts';
import {openSample} from '../gloves/check-sample.ts';

/** Samples of all kinds: text, JSON and packets; sound, faulty on a finger, the stick, a button, all channels, the link. */
export const figuredSamples = [
	'backlash',
	'bringup-swapped-reversed',
	'button-bounce',
	'device-restart',
	'dropout',
	'floating-input',
	'healthy',
	'healthy-cobs',
	'healthy-json',
	'lost-frames',
	'stick-no-return',
	'stuck-mid',
	'supply-ripple',
	'uneven-frames',
	'wrong-baud',
];

export function figuresPath(name: string): string {
	return fileURLToPath(new URL(`figures/${name}.txt`, import.meta.url));
}

/**
 * What is measured in a sample: figures of the link, of each channel and of the stick, then every check that applies with its
 * chances and the gate that kept it quiet, with what that saw and asks. A line each.
 */
export async function figuresOf(name: string): Promise<string> {
	const {source, session: options} = await openSample(name);
	const {snapshot, session} = await runSession(source, {session: options});
	const checks = faults
		.filter(({ways}) => ways.length > 0)
		.flatMap(fault => whyRows(session, fault))
		.filter(({state}) => state !== 'absent');
	const lines = [
		...measured(snapshot),
		...checks.map(({code, channel, state, seen, needed, next, way, gate, saw, asks}) =>
			[code, channel, state, `${seen}/${needed}`, next, way, gate, saw, asks].map(cell).join(' | '),
		),
	];
	return `${lines.join('\n')}\n`;
}

function measured({t, layout, link, channels, stick, events, notes}: Snapshot): string[] {
	return [
		line('session', {t, layout, events: events.map(one => `${cell(one.t)} ${one.event}`), notes}),
		line('link', link),
		...channels.map(({name, ...figures}) => line(name, figures)),
		...(stick === null ? [] : [line('stick', stick)]),
	];
}

function line(name: string, figures: object): string {
	return `${name} ${JSON.stringify(figures, (_, value) => (typeof value === 'number' ? Number(cell(value)) : value))}`;
}

/** Four digits: the last ones of a sine differ from one version of Node to another. */
function cell(value: number | string | null): string {
	if (value === null) return '–';
	return typeof value === 'number' ? String(Number(value.toPrecision(4))) : value;
}
