import {readdirSync} from 'node:fs';
import {PassThrough} from 'node:stream';
import {describe, expect, test} from 'vitest';
import {openNamedSource} from '../../source/command-line/source-options.ts';
import {runSession} from '../../source/session/run-session.ts';
import {Random} from '../../source/simulator/random.ts';
import {simulate} from '../../source/simulator/simulate.ts';
import {randomHealthy} from '../gloves/healthy.ts';
import {randomScenario, type Scenario} from '../gloves/scenario.ts';
import {sessionOf} from '../gloves/simulated-session.ts';

/** With THOROUGH=1 every recording and case, and many more gloves. */
const isThorough = process.env.THOROUGH === '1';
const root = new URL('../../', import.meta.url).pathname;
const filesIn = (folder: string, ending: string): string[] =>
	readdirSync(root + folder)
		.filter(name => name.endsWith(ending))
		.map(name => `${folder}/${name}`)
		.filter((_, i) => isThorough || i % 14 === 4);

/** What a session tells in the end of a file, with every gate of every check asked each time or not. */
async function told(file: string, asksAll: boolean): Promise<string> {
	const {signal} = new AbortController();
	const {source, session} = await openNamedSource(root + file, {}, {stdin: new PassThrough(), signal});
	const run = await runSession(source, {session: {...session, asksAll}});
	return JSON.stringify(run.snapshot);
}

function toldOf({spec}: Scenario, asksAll: boolean): string {
	const short = simulate({...spec, durationSeconds: Math.min(spec.durationSeconds, 20)});
	return JSON.stringify(sessionOf(short, {asksAll}).snapshot());
}

describe('a check is asked only when it can speak, and nothing is lost by that, to the digit', () => {
	test.each([...filesIn('recordings', '.gbrec'), ...filesIn('tests/cases', '.txt')])('%s', async file => {
		expect(await told(file, false)).toBe(await told(file, true));
	});

	test.each(Array.from({length: isThorough ? 80 : 3}, (_, i) => i + 1))('a glove with a fault, drawn by %d', seed => {
		const scenario = randomScenario(new Random(seed));
		expect(toldOf(scenario, false)).toBe(toldOf(scenario, true));
	});

	test.each(Array.from({length: isThorough ? 30 : 2}, (_, i) => i + 1))('a healthy glove, drawn by %d', seed => {
		const scenario = randomHealthy(new Random(seed));
		expect(toldOf(scenario, false)).toBe(toldOf(scenario, true));
	});
});
