import {isFirst, mostPressingFirst} from '../report/verdict-text.ts';
import type {Glyphs} from '../screen/look.ts';
import type {Row, Tone} from '../screen/rows.ts';
import type {Finding, Snapshot} from '../session/snapshot.ts';
import {escapeText} from '../text/escape-text.ts';
import {shorten, wrapText} from '../text/fit-text.ts';
import {type CatalogueEntry, findingTime, subject} from './finding-rows.ts';

/** The one root cause, and everything else. */
type DoFirst = {readonly first: Finding | undefined; readonly rest: readonly Finding[]};

/** Rows of the parts of DO FIRST: what must stand, and what may where there is room. */
type DoFirstRows = {
	readonly must: readonly Row[];
	readonly may: readonly (readonly Row[])[];
	readonly after: Row;
};

/**
 * What to do first, and the rest in order: open before over, gravest first. `atBench`: an input that waits to be wired is no
 * fault there.
 */
export function doFirst(snapshot: Snapshot, atBench = false): DoFirst {
	const findings = mostPressingFirst(snapshot.findings).filter(finding => !(atBench && waitsForWire(finding)));
	const first = findings.find(isFirst) ?? (atBench ? findings.find(({to}) => to === null) : undefined);
	const open = (finding: Finding) => Number(finding.to !== null);
	return {first, rest: findings.filter(finding => finding !== first).sort((a, b) => open(a) - open(b))};
}

function waitsForWire({code, status}: Finding): boolean {
	return code === 'floating-input' && status === 'function-check';
}

/** The rows of DO FIRST; undefined where nothing was found. */
export function doFirstParts(
	{first, rest}: DoFirst,
	catalogue: (code: string) => CatalogueEntry | undefined,
	width: number,
	glyphs: Glyphs,
): DoFirstRows | undefined {
	if (first === undefined && rest.length === 0) return undefined;
	const after = afterRow(rest, first === undefined, width, glyphs);
	if (first === undefined) return {must: [], may: [], after};
	const entry = catalogue(first.code);
	const title = `${subject(first)}: ${first.code}${entry ? `, ${entry.title}` : ''}, ${findingTime(first, glyphs)}`;
	const head: Row = [
		{text: ' DO FIRST ', tone: 'strong'},
		{text: ` ${shorten(title, width - 11, glyphs.ellipsis)}`, tone: first.status},
	];
	const [next, ...then] = first.advice;
	return {
		must: [head, ...paragraph(next ?? first.summary, '', width, 'strong')],
		may: [
			...first.cautions.slice(0, 1).map(caution => paragraph(caution, '! ', width)),
			...(entry?.remedy ?? []).slice(0, 1).map(remedy => paragraph(remedy, 'Mend: ', width)),
			...then.map((step, index) => paragraph(step, `${index + 2}. `, width)),
		],
		after,
	};
}

/** As many rows as there are, at most `height`: what must stand always whole, then what else fits, then what comes after. */
export function fitDoFirst({must, may, after}: DoFirstRows, height: number): Row[] {
	const rows: Row[] = [...must];
	for (const part of may) {
		if (rows.length + part.length + 1 > height) continue;
		rows.push(...part);
	}

	return [...rows, after].slice(0, Math.max(height, 0));
}

/** Rows that all of it takes, and that it takes at least. */
export function doFirstHeights({must, may}: DoFirstRows): {least: number; most: number} {
	const least = must.length + 1;
	return {least, most: least + may.reduce((sum, part) => sum + part.length, 0)};
}

function paragraph(text: string, head: string, width: number, tone?: Tone): Row[] {
	const indent = 3;
	const lines = wrapText(head + escapeText(text), width - indent);
	return lines.map(line => [{text: `${' '.repeat(indent)}${line}`, ...(tone && {tone})}]);
}

/** `after that (2): little mains-hum over 0:22–0:40, link/all stall since 0:30`. */
function afterRow(rest: readonly Finding[], isAll: boolean, width: number, glyphs: Glyphs): Row {
	const head = isAll ? ` all over (${rest.length}): ` : ` after that${rest.length > 0 ? ` (${rest.length})` : ''}: `;
	if (rest.length === 0) return [{text: `${head}nothing`, tone: 'quiet'}];
	const texts = rest.map(finding => `${subject(finding)} ${finding.code} ${findingTime(finding, glyphs)}`);
	return [{text: shorten(head + texts.join(', '), width - 4, glyphs.ellipsis)}, {text: '  f', tone: 'strong'}];
}
