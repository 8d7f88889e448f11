import {existsSync, readdirSync, readFileSync, writeFileSync} from 'node:fs';
import process from 'node:process';
import {describe, expect, it} from 'vitest';
import {parseCommandLine} from '../../../source/command-line/parse-command-line.ts';
import {faults} from '../../../source/faults/registry.ts';
import {intakeOf} from '../../../source/report/intake-text.ts';
import {mostReplyCharacters, replyText} from '../../../source/report/reply/reply-text.ts';
import {verdictSentence} from '../../../source/report/verdict-text.ts';
import {weighs} from '../../../source/session/verdict.ts';
import {checkSample} from '../../gloves/check-sample.ts';
import {fingerView, sampleFinding, sampleInfo, sampleSnapshot} from '../sample-run.ts';

const golden = new URL('golden/', import.meta.url);
const codes = faults.map(({code}) => code);

/** What only the bring-up can find: `check` on their samples has nothing to answer but the movement that is missing. */
const bringUpOnly = faults.filter(({ways}) => ways.length === 0).map(({code}) => code);

async function replyOf(code: string): Promise<string> {
	const {snapshot, info} = await checkSample(code);
	return replyText(snapshot, info);
}

/** Names of findings that are no words of everyday English. Whole words: a recording is named after its code. */
function codesIn(text: string): string[] {
	const message = text.replace(/^Hello, I looked at \S+/, '');
	return codes.filter(code => new RegExp(`(?<![\\w-])${code}(?![\\w-])`).test(message));
}

describe('the reply to the builder', () => {
	it.each(codes)('%s: is, word for word, what was looked at and kept', async code => {
		const text = await replyOf(code);
		const file = new URL(`${code}.txt`, golden);
		if (process.env.GOLDEN === 'write') writeFileSync(file, text);
		expect(existsSync(file), `no golden/${code}.txt: npm run finding -- ${code}, and read it`).toBe(true);
		expect(text).toBe(readFileSync(file, 'utf8'));
	});

	it('has no other golden than one for each code', () => {
		expect(readdirSync(golden).sort()).toEqual(codes.map(code => `${code}.txt`).sort());
	});

	it.each(codes)('%s: names no code, is short, and has no table', async code => {
		const text = await replyOf(code);
		expect(codesIn(text)).toEqual([]);
		expect(text.length).toBeLessThanOrEqual(mostReplyCharacters);
		expect(text).not.toMatch(/[|`*]|\b_|_\b| {2}|\t|% FS|undefined|NaN|\.\./);
		expect(text.endsWith('.\n')).toBe(true);
	});

	it.each(codes)(
		'%s: no other report has a code in a sentence: verdict, summaries, advice, cautions, notes',
		async code => {
			const {snapshot, info} = await checkSample(code);
			const sentences = [
				verdictSentence(snapshot),
				...snapshot.notes,
				...intakeOf(snapshot, info).lines,
				...intakeOf(snapshot, info).odd,
				...snapshot.findings.flatMap(({summary, advice, cautions}) => [summary, ...advice, ...cautions]),
			];
			// Codes of one word (silent, stall) are words of everyday English too.
			for (const sentence of sentences) expect(codesIn(sentence).filter(one => one.includes('-'))).toEqual([]);
		},
	);

	it.each(codes.filter(code => !bringUpOnly.includes(code)))(
		'%s: has a figure of its evidence with the unit, one thing to measure, and what it should read',
		async code => {
			const {snapshot} = await checkSample(code);
			const reply = await replyOf(code);
			const finding = snapshot.findings.find(({first}) => first)!;
			expect(finding.code).toBe(code);
			expect(weighs(finding)).toBe(true);
			const [, seen] = /What I see: (.*)/.exec(reply)!;
			const [summary] = seen.split(' The usual cause:');
			const numbers = [...summary.matchAll(/(\d[\d.,]*) (?:% of full scale|%|[a-zA-Z]+)/g)].map(([, number]) =>
				Number(number),
			);
			const figures = [finding.from, ...Object.values(finding.evidence)].map(Number);
			// Shares are told in per cent.
			const known = [...figures, ...figures.map(share => 100 * share)];
			expect(
				numbers.some(number => known.some(value => Math.abs(value - number) < 0.051)),
				summary,
			).toBe(true);
			const [, steps] = /\nDo this first: (.*)/.exec(reply)!;
			const [, reads] = /(?:It should read|You should see|It should say|They should):? (.*)/.exec(steps)!;
			const meant = finding.advice.find(
				text => text.includes(' — ') && reads.startsWith(text.split(' — ')[1].slice(0, 20)),
			);
			expect(meant, reads).toBeDefined();
		},
	);

	it.each(codes)('%s: ends with a command that the program takes', async code => {
		const reply = await replyOf(code);
		const [line] = /^glovebench record .*$/m.exec(reply) ?? [];
		expect(line).toBeDefined();
		const asked = parseCommandLine(line!.split(' ').slice(1));
		expect(asked).toMatchObject({wants: 'command', options: {output: expect.stringMatching(/^\w+\.gbrec$/)}});
		const [, seconds] = /send me (\d+) s/.exec(reply)!;
		expect(asked).toMatchObject({options: {for: Number(seconds)}});
	});

	it('asks for the movement where nothing is wrong and something is unproven, and for no more than that', () => {
		const channels = [
			fingerView(0, 'thumb'),
			fingerView(1, 'ring', {state: 'waiting'}),
			fingerView(2, 'stick-x', {role: 'stick', state: 'waiting'}),
			fingerView(3, 'button-1', {role: 'button', state: 'waiting'}),
		];
		const text = replyText(sampleSnapshot({channels, verdict: 'unproven'}), sampleInfo);
		expect(text).toContain("Not seen to work yet: the ring finger, the stick's x axis and button 1.");
		expect(text).toContain('bend the ring finger alone three times');
		expect(text).toContain('push the stick fully to all four sides twice');
		expect(text).toContain('press button 1 three times');
		expect(text).not.toContain('Do this first');
	});

	it('says that there is nothing to do where everything is proven, and asks for nothing', () => {
		const text = replyText(sampleSnapshot(), sampleInfo);
		expect(text).toContain('nothing is wrong');
		expect(text).not.toMatch(/send|record/);
	});

	it('says how the log was read where that was a guess', () => {
		const snapshot = sampleSnapshot();
		const layout = {
			...snapshot.layout!,
			channels: snapshot.layout!.channels.map(one => ({...one, by: 'order' as const})),
		};
		const info = {...sampleInfo, timing: 'assumed' as const};
		const text = replyText(sampleSnapshot({layout}), info);
		expect(text).toContain('in order, for thumb, index, middle, ring, little and a button; tell me if that is wrong.');
		expect(text).toContain('It has no times, so I cannot judge the link.');
		expect(replyText(snapshot, sampleInfo)).not.toContain('tell me if that is wrong');
	});

	it('names the port that was read, and the speed where it is not the usual one', () => {
		const snapshot = sampleSnapshot({findings: [sampleFinding({first: true})], verdict: 'fail'});
		const text = replyText(snapshot, {kind: 'serial', name: '/dev/ttyUSB0', timing: 'measured', baud: 57_600});
		expect(text).toContain('\nglovebench record /dev/ttyUSB0 -o again.gbrec --for 30s --baud 57600\n');
		expect(text).not.toContain('PORT');
	});

	it('tells of other channels with the same and of the number of other findings, but does not go into them', () => {
		const findings = [
			sampleFinding({first: true}),
			sampleFinding({channel: 'little'}),
			sampleFinding({code: 'stray-text', channel: null, status: 'function-check', summary: 'One stray line.'}),
		];
		const text = replyText(sampleSnapshot({findings, verdict: 'fail'}), sampleInfo);
		expect(text).toContain('The same goes for the little finger.');
		expect(text).toContain('I see one more thing, which can wait: this may be the cause.');
		expect(text).not.toContain('stray line');
	});

	it('stays short, whatever the device said, and makes no markup, mention or link of it', () => {
		const rude = '@everyone <b>**x**</b> `rm` http://a.example/[b](c) | # \u001b[2J\u202e '.repeat(40);
		const findings = [
			sampleFinding({
				code: 'stray-text',
				channel: null,
				first: true,
				summary: `One stray line: ${rude}`,
				advice: [rude],
			}),
		];
		const text = replyText(sampleSnapshot({findings, verdict: 'fail'}), {...sampleInfo, name: `/tmp/${rude}`});
		expect(text.length).toBeLessThanOrEqual(mostReplyCharacters);
		expect(text).not.toMatch(/@|:\/\/|[<>`|*#]|[\u001b\u202e]/);
	});
});
