import type {Outcome} from './score.ts';

export type Row = {
	readonly code: string;
	readonly cases: number;
	readonly found: number;
	readonly missed: number;
	readonly wrongChannel: number;
	readonly extra: number;
	readonly medianDelay: number | null;
	readonly lateDelay: number | null;
};

/** Value below which the share `p` of a sorted row lies; null of nothing. */
function quantile(sorted: readonly number[], p: number): number | null {
	return sorted.length === 0 ? null : sorted[Math.min(sorted.length - 1, Math.floor(p * sorted.length))];
}

/** One row per code, in the order in which the codes first came; healthy cases under `healthy`. */
export function tabulate(outcomes: readonly Outcome[]): Row[] {
	const codes = [...new Set(outcomes.map(({code}) => code ?? 'healthy'))];
	return codes.map(code => {
		const own = outcomes.filter(outcome => (outcome.code ?? 'healthy') === code);
		const count = (result: Outcome['result']): number => own.filter(outcome => outcome.result === result).length;
		const delays = own.flatMap(({delaySeconds}) => delaySeconds ?? []).sort((a, b) => a - b);
		return {
			code,
			cases: own.length,
			found: count('found'),
			missed: count('missed'),
			wrongChannel: count('wrong channel'),
			extra: own.reduce((sum, {extra}) => sum + extra.length, 0),
			medianDelay: quantile(delays, 0.5),
			lateDelay: quantile(delays, 0.9),
		};
	});
}

/** Which unexplained findings came in the cases of which code: `shown` → (`raised` → how often). */
export function confusion(outcomes: readonly Outcome[]): Map<string, Map<string, number>> {
	const table = new Map<string, Map<string, number>>();
	for (const {code, extra} of outcomes) {
		const row = table.get(code ?? 'healthy') ?? new Map<string, number>();
		for (const found of extra) row.set(found.code, (row.get(found.code) ?? 0) + 1);
		if (row.size > 0) table.set(code ?? 'healthy', row);
	}
	return table;
}

/** The two tables and the totals as text. */
export function report(outcomes: readonly Outcome[]): string {
	const seconds = (value: number | null): string => (value === null ? '-' : value.toFixed(1));
	const lines = [
		['code', 'cases', 'found', 'missed', 'wrong ch.', 'false', 'median s', '90 % s'],
		...tabulate(outcomes).map(row => [
			row.code,
			String(row.cases),
			row.code === 'healthy' ? '-' : String(row.found),
			row.code === 'healthy' ? '-' : String(row.missed),
			row.code === 'healthy' ? '-' : String(row.wrongChannel),
			String(row.extra),
			seconds(row.medianDelay),
			seconds(row.lateDelay),
		]),
	].map(([first, ...rest]) => first.padEnd(19) + rest.map(cell => cell.padStart(10)).join(''));
	const faulty = outcomes.filter(({code}) => code !== null);
	const healthy = outcomes.filter(({code}) => code === null);
	const sum = (list: readonly Outcome[], of: (outcome: Outcome) => number): number =>
		list.reduce((total, outcome) => total + of(outcome), 0);
	const share = (count: number): string => (faulty.length === 0 ? '-' : (count / faulty.length).toFixed(3));
	const hours = sum(healthy, outcome => outcome.hours);
	const falseHealthy = sum(healthy, ({extra}) => extra.length);
	lines.push('', 'Confusion: findings that nothing injected explains, by what was injected');
	for (const [shown, raised] of confusion(outcomes)) {
		const list = [...raised].sort((a, b) => b[1] - a[1]).map(([code, count]) => `${code} ${count}`);
		lines.push(`${shown.padEnd(19)}  ${list.join(', ')}`);
	}
	lines.push(
		'',
		`recall ${share(sum(faulty, ({result}) => (result === 'found' ? 1 : 0)))}  wrong channel ${share(sum(faulty, ({result}) => (result === 'wrong channel' ? 1 : 0)))}  false per faulty case ${share(sum(faulty, ({extra}) => extra.length))}`,
		`false per healthy hour ${hours > 0 ? (falseHealthy / hours).toFixed(2) : '-'} (${falseHealthy} in ${hours.toFixed(2)} h)`,
	);
	return `${lines.join('\n')}\n`;
}
