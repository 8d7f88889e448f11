import type {MustOutcome, Outcome} from './score.ts';

/** Value below which the share `p` of a sorted row lies; null of nothing. */
export function quantile(sorted: readonly number[], p: number): number | null {
	return sorted.length === 0 ? null : sorted[Math.min(sorted.length - 1, Math.floor(p * sorted.length))];
}

export type Totals = {
	readonly cases: number;
	readonly needed: number;
	readonly found: number;
	readonly wrongChannel: number;
	readonly wrongStatus: number;
	/** False findings, all cases together. */
	readonly extra: number;
	readonly falsePerCase: number;
	readonly healthyHours: number;
	readonly falsePerHealthyHour: number | null;
	readonly recall: number | null;
	readonly medianDelay: number | null;
	readonly lateDelay: number | null;
	readonly statesRight: number;
	readonly statesWrong: number;
	readonly verdictsRight: number;
	readonly verdictsWrong: number;
	readonly slips: number;
};

const sum = (outcomes: readonly Outcome[], of: (outcome: Outcome) => number): number =>
	outcomes.reduce((total, outcome) => total + of(outcome), 0);

/** All counts of some outcomes. */
export function totalsOf(outcomes: readonly Outcome[]): Totals {
	const musts = outcomes.flatMap(outcome => outcome.musts);
	const count = (result: MustOutcome['result']): number => musts.filter(must => must.result === result).length;
	const delays = musts.flatMap(({delaySeconds}) => delaySeconds ?? []).sort((a, b) => a - b);
	const healthy = outcomes.filter(({isHealthy}) => isHealthy);
	const healthyHours = sum(healthy, ({hours}) => hours);
	const extra = sum(outcomes, outcome => outcome.extra.length);
	return {
		cases: outcomes.length,
		needed: musts.length,
		found: count('found'),
		wrongChannel: count('wrong channel'),
		wrongStatus: musts.filter(({wrongStatus}) => wrongStatus !== null).length,
		extra,
		falsePerCase: outcomes.length === 0 ? 0 : extra / outcomes.length,
		healthyHours,
		falsePerHealthyHour: healthyHours > 0 ? sum(healthy, outcome => outcome.extra.length) / healthyHours : null,
		recall: musts.length === 0 ? null : count('found') / musts.length,
		medianDelay: quantile(delays, 0.5),
		lateDelay: quantile(delays, 0.9),
		statesRight: sum(outcomes, ({states}) => states.right),
		statesWrong: sum(outcomes, ({states}) => states.wrong.length),
		verdictsRight: sum(outcomes, ({verdict}) => (verdict.right === true ? 1 : 0)),
		verdictsWrong: sum(outcomes, ({verdict}) => (verdict.right === false ? 1 : 0)),
		slips: sum(outcomes, outcome => outcome.slips.length),
	};
}

const shown = (value: number | null, digits = 1): string => (value === null ? '-' : value.toFixed(digits));

/** What is wrong about one session, one line each; nothing where all is right. */
export function detailOf({row, name, musts, extra, states, verdict, slips}: Outcome): string[] {
	const place = name === row ? row : `${row}: ${name}`;
	const lines = musts
		.filter(({result}) => result !== 'found')
		.map(
			({must, result}) =>
				`${result} ${must.codes.join(' or ')} on ${must.channels === 'any' ? 'any' : must.channels.join(' or ')}`,
		);
	for (const {must, wrongStatus} of musts) if (wrongStatus !== null) lines.push(`${must.codes[0]} at ${wrongStatus}`);
	for (const {code, channel, flaggedAt, summary} of extra) {
		lines.push(`false ${code} on ${channel ?? 'all'} at ${flaggedAt.toFixed(1)} s: ${summary ?? ''}`);
	}
	if (states.wrong.length > 0) lines.push(`states: ${states.wrong.join('; ')}`);
	if (verdict.right === false) lines.push(`verdict ${verdict.said}`);
	if (slips.length > 0) lines.push(`checks: ${slips.join('; ')}`);
	return lines.map(line => `${place}: ${line}`);
}

/** One row per kind of session, what was raised for nothing, and the totals. */
export function report(title: string, outcomes: readonly Outcome[]): string {
	const rows = [...new Set(outcomes.map(({row}) => row))];
	const width = Math.max(4, ...rows.map(row => row.length)) + 2;
	const head = ['cases', 'found', 'missed', 'wr.chan', 'false', 'median s', '90 % s', 'states', 'verdict', 'checks'];
	const lines = [`${title}\n${''.padEnd(width)}${head.map(cell => cell.padStart(9)).join('')}`];
	for (const row of rows) {
		const t = totalsOf(outcomes.filter(outcome => outcome.row === row));
		const missed = t.needed - t.found - t.wrongChannel;
		const of = (right: number, wrong: number): string => (right + wrong === 0 ? '-' : `${right}/${right + wrong}`);
		const cells = [
			String(t.cases),
			...(t.needed === 0 ? ['-', '-', '-'] : [`${t.found}/${t.needed}`, String(missed), String(t.wrongChannel)]),
			String(t.extra),
			shown(t.medianDelay),
			shown(t.lateDelay),
			of(t.statesRight, t.statesWrong),
			of(t.verdictsRight, t.verdictsWrong),
			t.slips === 0 ? '-' : `${t.slips} !`,
		];
		lines.push(row.padEnd(width) + cells.map(cell => cell.padStart(9)).join(''));
	}
	const byCode = new Map<string, number>();
	for (const {code} of outcomes.flatMap(({extra}) => extra)) byCode.set(code, (byCode.get(code) ?? 0) + 1);
	const falseCodes = [...byCode].sort((a, b) => b[1] - a[1]).map(([code, count]) => `${code} ${count}`);
	const t = totalsOf(outcomes);
	lines.push(
		`false findings: ${falseCodes.join(', ') || 'none'}`,
		`recall ${shown(t.recall, 3)} (${t.found} of ${t.needed}, ${t.wrongChannel} on a wrong channel, ${t.wrongStatus} at a wrong status)  false a case ${t.falsePerCase.toFixed(3)}  false a healthy hour ${shown(t.falsePerHealthyHour, 2)} (${t.healthyHours.toFixed(2)} h)`,
		`delay median ${shown(t.medianDelay)} s, 90 % ${shown(t.lateDelay)} s  states ${t.statesRight} right, ${t.statesWrong} wrong  verdicts ${t.verdictsRight} right, ${t.verdictsWrong} wrong  wrong checks and proofs ${t.slips}`,
	);
	return `${lines.join('\n')}\n`;
}
