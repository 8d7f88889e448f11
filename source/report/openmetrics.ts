import {faults} from '../faults/registry.ts';
import {weighs} from '../session/verdict.ts';
import {escapeText} from '../text/escape-text.ts';
import {tool} from '../version.ts';
import type {CheckedSource} from './junit.ts';
import {publicName} from './public-name.ts';

type Read = Extract<CheckedSource, {readonly snapshot: unknown}>;

type Sample = {readonly labels?: Readonly<Record<string, string>>; readonly value: number | null};

/** A metric family: what it is, and its samples of one source; null where it cannot be told. */
type Family = {
	readonly name: string;
	readonly type: 'gauge' | 'counter' | 'stateset';
	readonly unit?: string;
	readonly help: string;
	readonly samples: (source: Read) => readonly Sample[];
};

const one = (value: number | null): readonly Sample[] => [{value}];
const inSeconds = (ms: number | null | undefined): number | null =>
	ms === null || ms === undefined ? null : ms / 1000;

const verdicts = ['pass', 'unproven', 'attention', 'fail'] as const;

const families: readonly Family[] = [
	{
		name: 'glovebench_duration_seconds',
		type: 'gauge',
		unit: 'seconds',
		help: 'Stream time that was checked.',
		samples: ({snapshot}) => one(snapshot.t),
	},
	{
		name: 'glovebench_frames',
		type: 'counter',
		help: 'Frames read.',
		samples: ({snapshot}) => one(snapshot.link.frames),
	},
	{
		name: 'glovebench_bad_lines',
		type: 'counter',
		help: 'Damaged lines.',
		samples: ({snapshot}) => one(snapshot.link.badLines),
	},
	{
		name: 'glovebench_frames_per_second',
		type: 'gauge',
		help: 'Frame rate over the whole time.',
		samples: ({snapshot}) => one(snapshot.link.framesPerSecond),
	},
	{
		name: 'glovebench_jitter_seconds',
		type: 'gauge',
		unit: 'seconds',
		help: 'Interarrival jitter of RFC 3550.',
		samples: ({snapshot}) => one(inSeconds(snapshot.link.jitterMs)),
	},
	{
		name: 'glovebench_interval_max_seconds',
		type: 'gauge',
		unit: 'seconds',
		help: 'Longest time between two frames.',
		samples: ({snapshot}) => one(inSeconds(snapshot.link.intervalMs?.max)),
	},
	{
		name: 'glovebench_line_load_ratio',
		type: 'gauge',
		unit: 'ratio',
		help: 'Share of the serial line in use.',
		samples: ({snapshot}) => one(snapshot.link.lineLoad),
	},
	{
		name: 'glovebench_lost_frames_ratio',
		type: 'gauge',
		unit: 'ratio',
		help: 'Share of the frames lost, by the frame counter.',
		samples: ({snapshot}) => one(snapshot.link.lostPercent === null ? null : snapshot.link.lostPercent / 100),
	},
	{
		name: 'glovebench_outages',
		type: 'counter',
		help: 'Gaps of at least 200 ms and five intervals.',
		samples: ({snapshot}) => one(snapshot.link.outages),
	},
	{
		name: 'glovebench_channels',
		type: 'gauge',
		help: 'Channels by state.',
		samples: ({snapshot}) => {
			const counts = new Map<string, number>();
			for (const {state} of snapshot.channels) counts.set(state, (counts.get(state) ?? 0) + 1);
			return [...counts].sort().map(([state, value]) => ({labels: {state}, value}));
		},
	},
	{
		name: 'glovebench_findings',
		type: 'gauge',
		help: 'Findings that weigh, by code.',
		samples: ({snapshot}) =>
			faults
				.filter(({ways}) => ways.length > 0)
				.map(({code}) => ({
					labels: {code},
					value: snapshot.findings.filter(finding => finding.code === code && weighs(finding)).length,
				})),
	},
	{
		name: 'glovebench_verdict',
		type: 'stateset',
		help: 'The verdict.',
		samples: ({snapshot}) =>
			verdicts.map(verdict => ({
				labels: {glovebench_verdict: verdict},
				value: Number(snapshot.verdict === verdict),
			})),
	},
];

/**
 * Checked sources as OpenMetrics text, version 1.0: a label `source` tells them apart, families are whole, and `# EOF`
 * ends it. `glovebench_read` is 0 for a source that could not be read. Times are in seconds, shares from 0 to 1.
 */
export function openMetrics(sources: readonly CheckedSource[]): string {
	const read = sources.filter((source): source is Read => 'snapshot' in source);
	const lines = families.flatMap(family => {
		const samples = read.flatMap(source =>
			family
				.samples(source)
				.filter(({value}) => value !== null && Number.isFinite(value))
				.map(({labels, value}) => {
					const suffix = family.type === 'counter' ? '_total' : '';
					return `${family.name}${suffix}${labelText({source: publicName(source.info.name), ...labels})} ${value}`;
				}),
		);
		return samples.length === 0 ? [] : [...headOf(family), ...samples];
	});
	return [
		'# TYPE glovebench info',
		'# HELP glovebench The program.',
		`glovebench_info${labelText({version: tool.version})} 1`,
		...headOf({name: 'glovebench_read', type: 'gauge', help: 'Whether the source could be read.'}),
		...sources.map(
			source =>
				`glovebench_read${labelText({source: publicName('snapshot' in source ? source.info.name : source.name)})} ${Number('snapshot' in source)}`,
		),
		...lines,
		'# EOF',
		'',
	].join('\n');
}

function headOf({name, type, unit, help}: Omit<Family, 'samples'>): string[] {
	return [
		`# TYPE ${name} ${type}`,
		...(unit === undefined ? [] : [`# UNIT ${name} ${unit}`]),
		`# HELP ${name} ${help}`,
	];
}

/** OpenMetrics 1.0, section 4.1 (ABNF): backslash, quote and line feed are escaped in a label's value. */
function labelText(labels: Readonly<Record<string, string>>): string {
	const text = Object.entries(labels).map(
		([name, value]) => `${name}="${escapeText(value).replace(/[\\"]/g, '\\$&')}"`,
	);
	return `{${text.join(',')}}`;
}
