import {readdirSync} from 'node:fs';
import {fileURLToPath} from 'node:url';
import type {Snapshot} from '../../source/session/snapshot.ts';
import {checkSample} from './check-sample.ts';

const folder = new URL('../../recordings/', import.meta.url);

/** Names of all samples, without their ending. */
export const sampleNames = namesWith('.gbrec');

/** Names of the samples that have a twin. */
export const twinNames = namesWith('.expected.json');

/** What is to be found in a sample, as it stands beside it: verdict, states of the channels, findings with their times. */
export type Twin = {
	readonly verdict: string;
	readonly channels: Readonly<Record<string, string>>;
	readonly findings: readonly TwinFinding[];
};

type TwinFinding = {
	readonly code: string;
	readonly channel: string | null;
	readonly status: string;
	readonly first: boolean;
	/** Seconds, in hundredths. */
	readonly from: number;
	readonly flaggedAt: number;
	readonly to: number | null;
	readonly confidence: number;
	/** The figures that the words of the finding are made of. */
	readonly summary: string;
	readonly evidence: Readonly<Record<string, number | string>>;
};

/** Where the twin of a sample stands. */
export function twinPath(name: string): string {
	return fileURLToPath(new URL(`${name}.expected.json`, folder));
}

/** The twin of a sample as the program reads it now. */
export async function twinOf(name: string): Promise<Twin> {
	const {snapshot} = await checkSample(name);
	return {
		verdict: snapshot.verdict,
		channels: Object.fromEntries(snapshot.channels.map(({name: channel, state}) => [channel, state])),
		findings: snapshot.findings.map(finding),
	};
}

/** As it is written: a line a finding, so that a change shows as one. */
export function twinText({verdict, channels, findings}: Twin): string {
	const lines = findings.map(one => `\t\t${JSON.stringify(one)}`).join(',\n');
	return `{\n\t"verdict": ${JSON.stringify(verdict)},\n\t"channels": ${JSON.stringify(channels)},\n\t"findings": [${lines === '' ? '' : `\n${lines}\n\t`}]\n}\n`;
}

function finding(found: Snapshot['findings'][number]): TwinFinding {
	const {code, channel, status, first, from, flaggedAt, to, confidence, summary, evidence} = found;
	return {
		code,
		channel,
		status,
		first,
		from: hundredths(from),
		flaggedAt: hundredths(flaggedAt),
		to: to === null ? null : hundredths(to),
		confidence,
		summary,
		evidence,
	};
}

function hundredths(seconds: number): number {
	return Math.round(100 * seconds) / 100;
}

function namesWith(ending: string): string[] {
	return readdirSync(folder)
		.filter(name => name.endsWith(ending))
		.map(name => name.slice(0, -ending.length));
}
