import type {Fault} from '../faults/fault.ts';
import {gateWords, rangeText, sentence, waysInWords} from '../faults/limit-text.ts';
import {judgedOn, statusMeanings} from '../faults/status-meanings.ts';
import {wrapText} from '../text/wrap-text.ts';
import {symptoms} from './symptoms.ts';

/** Wider lines are hard to read, however wide the terminal is. */
const widestColumns = 100;
const narrowestColumns = 30;

function usableWidth(width: number): number {
	return Number.isFinite(width) ? Math.min(widestColumns, Math.max(narrowestColumns, Math.floor(width))) : 80;
}

/** Everything the catalogue knows about one finding, as lines of at most `width` columns (30 to 100). */
export function explainText(fault: Fault, width: number): string {
	const columns = usableWidth(width);
	const paragraph = (text: string) => wrapText(text, columns, '  ');
	const numbered = (texts: readonly string[]) =>
		texts.flatMap((text, index) => wrapText(text, columns, `${String(index + 1).padStart(3)}. `));
	return [
		...wrapText(`${fault.code}: ${fault.title}`, columns),
		'',
		...paragraph(fault.definition),
		...paragraph(`Status: ${fault.status} (${statusMeanings[fault.status]}). Judged on ${judgedOn(fault)}.`),
		'',
		'Why it reads like this',
		...paragraph(fault.physics),
		'',
		'Likely causes, likeliest first',
		...numbered(fault.causes),
		'',
		'What to measure, and what it should read',
		...fault.measurements.flatMap(({measure, expect}, index) => [
			...wrapText(measure, columns, `${String(index + 1).padStart(3)}. `),
			...wrapText(expect, columns, '     → '),
		]),
		'',
		'How to mend it',
		...fault.remedy.flatMap(text => wrapText(text, columns, '  - ')),
		...(fault.caution === undefined
			? []
			: [
					'',
					'Caution',
					...paragraph(fault.caution),
					...paragraph("The parts' data sheets and local rules go before this page."),
				]),
		'',
		...reported(fault, columns),
	].join('\n');
}

/** What the check itself asks, way by way, with the limits that it reads. */
function reported(fault: Fault, columns: number): string[] {
	if (fault.ways.length === 0)
		return [
			'When it is reported',
			...wrapText('Found by the bring-up only: it asks for one movement at a time.', columns, '  '),
			'',
		];
	return waysInWords(fault).flatMap(({name, conditions}) => [
		...wrapText(`When it is reported${name === null ? '' : ` (${name})`}: all of these`, columns),
		...conditions.flatMap(({name: gate, asks, limit}) => [
			...wrapText(`${gateWords(gate)}: ${asks}`, columns, '  - '),
			...(limit === null
				? []
				: wrapText([sentence(limit.because), rangeText(limit)].filter(Boolean).join(' '), columns, '      ')),
		]),
		'',
	]);
}

/** Codes with status and title, one line each where the width allows, under what the builder sees. */
export function faultList(faults: readonly Fault[], width: number): string {
	const columns = usableWidth(width);
	const codeWidth = Math.max(...faults.map(({code}) => code.length));
	const statusWidth = Math.max(...faults.map(({status}) => status.length));
	return [
		...symptoms.flatMap(({sees, codes}) => {
			const seen = faults.filter(({code}) => codes.some(each => each === code));
			if (seen.length === 0) return [];
			return [
				`${sees.charAt(0).toUpperCase()}${sees.slice(1)}`,
				...seen.flatMap(({code, status, title}) =>
					wrapText(title, columns, `${code.padEnd(codeWidth)}  ${status.padEnd(statusWidth)}  `, '    '),
				),
				'',
			];
		}),
		...wrapText('glovebench explain CODE says what to measure and how to mend it; --all explains every one.', columns),
		'',
	].join('\n');
}
