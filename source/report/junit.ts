import {titleOf} from '../faults/plain-name.ts';
import type {ReadInfo} from '../session/run-session.ts';
import type {CheckRow, Finding, Snapshot} from '../session/snapshot.ts';
import {weighs} from '../session/verdict.ts';
import {escapeText} from '../text/escape-text.ts';
import {placeText} from './finding-text.ts';
import {publicName} from './public-name.ts';

/** One source and what its session came to; or why it could not be read. */
export type CheckedSource =
	| {readonly name: string; readonly snapshot: Snapshot; readonly info: ReadInfo}
	| {readonly name: string; readonly why: string};

const declaration = '<?xml version="1.0" encoding="UTF-8"?>\n';

/**
 * The checks as JUnit XML: a test suite for each source, a test case for each check of each channel. What weighs at
 * failure or out-of-spec has failed, what waits for its movement was skipped, a source that cannot be read is an error.
 * Several suites stand in `testsuites`.
 *
 * Source: Apache Maven Surefire, surefire-test-report.xsd, which each suite keeps to.
 */
export function junitXml(sources: readonly CheckedSource[]): string {
	const suites = sources.map(suite);
	return suites.length === 1
		? declaration + suites[0]
		: `${declaration}<testsuites>\n${suites.join('')}</testsuites>\n`;
}

function suite(source: CheckedSource): string {
	if ('why' in source) {
		const error = `<error type="unread" message="${attribute(source.why)}"/>`;
		return suiteText(publicName(source.name), 0, [{text: testCase('source', 'reading', error), kind: 'error'}]);
	}

	const {snapshot, info} = source;
	const cases = [...snapshot.checks.map(row => caseOf(row, snapshot)), ...beyondRows(snapshot)];
	return suiteText(publicName(info.name), info.wholeSeconds ?? snapshot.t, cases);
}

type Case = {readonly text: string; readonly kind: 'passed' | 'failure' | 'skipped' | 'error'};

function suiteText(name: string, seconds: number, cases: readonly Case[]): string {
	const count = (kind: Case['kind']) => cases.filter(one => one.kind === kind).length;
	return (
		`<testsuite name="${attribute(name)}" time="${seconds.toFixed(3)}" tests="${cases.length}" errors="${count('error')}" ` +
		`skipped="${count('skipped')}" failures="${count('failure')}">\n${cases.map(({text}) => text).join('')}</testsuite>\n`
	);
}

function caseOf(row: CheckRow, snapshot: Snapshot): Case {
	const {code, channel, state, next, seen, needed} = row;
	const finding = snapshot.findings.find(one => one.code === code && one.channel === channel);
	if (finding !== undefined && weighs(finding)) return foundCase(finding);
	if (state === 'waiting') {
		const message = `${next ?? 'not enough was seen'} (${seen} of ${needed})`;
		return {text: testCase(placeText(row), code, `<skipped message="${attribute(message)}"/>`), kind: 'skipped'};
	}

	return {text: testCase(placeText(row), code, ''), kind: 'passed'};
}

/** What was found and has no row of its own: checks without their ground by now, and those of a layout that was left. */
function beyondRows({findings, checks}: Snapshot): Case[] {
	return findings
		.filter(weighs)
		.filter(({code, channel}) => !checks.some(row => row.code === code && row.channel === channel))
		.map(foundCase);
}

function foundCase(finding: Finding): Case {
	const {code, status, summary, advice, cautions} = finding;
	const words = [summary, ...advice.slice(0, 1).map(text => `Measure next: ${text}`), ...cautions].join('\n');
	const place = placeText(finding);
	return status === 'failure' || status === 'out-of-spec'
		? {
				text: testCase(
					place,
					code,
					`<failure type="${status}" message="${attribute(summary)}">${characters(words)}</failure>`,
				),
				kind: 'failure',
			}
		: {text: testCase(place, code, `<system-out>${characters(`${status}: ${words}`)}</system-out>`), kind: 'passed'};
}

function testCase(place: string, code: string, inside: string): string {
	const title = titleOf(code);
	const name = `${place}: ${code}${title === code ? '' : ` (${title})`}`;
	const head = `\t<testcase name="${attribute(name)}" classname="glovebench.${attribute(code)}" time="0"`;
	return inside === '' ? `${head}/>\n` : `${head}>${inside}</testcase>\n`;
}

const entities: Readonly<Record<string, string>> = {'&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;'};

/** Text for an attribute: what XML 1.0 has no character for is spelled as on a terminal. */
function attribute(text: string): string {
	return escapeText(text).replace(/[&<>"]/g, sign => entities[sign] ?? sign);
}

/** Text between tags, on several lines. */
function characters(text: string): string {
	return text.split('\n').map(attribute).join('\n');
}
