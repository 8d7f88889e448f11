import {describe, expect, it} from 'vitest';
import {type PlanOptions, planCommand} from '../../source/commands/plan.ts';
import {testFolder} from '../gloves/test-folder.ts';
import {runCaptured} from './run-captured.ts';

const {write} = testFolder();

async function plan(toml: string, options: Partial<PlanOptions> = {}, columns?: number) {
	const sheet = write('glove.toml', toml);
	return {...(await runCaptured(planCommand, {sheet, ...options}, {columns})), sheet};
}

const sound = `
name = "fox, left"
[board]
family = "esp32"
[[channel]]
name = "index"
pin = "GPIO32"
[reel]
spool_diameter_mm = 20
cord_travel_mm = 38
[link]
kind = "bluetooth"
[power]
source = "battery"
battery_mah = 1000
battery_volts = 3.7
[servos]
count = 5
`;

/** Three mistakes: a finger on a pin without converter, a button without pull-up, 5 V on a 3.3 V board. */
const mistaken = `
[board]
family = "esp32"
supply_volts = 5
[[channel]]
name = "index"
pin = "GPIO18"
[[channel]]
name = "button-1"
pin = "GPIO35"
`;

describe('plan', () => {
	it('says what to expect of a sound sheet, status 0', async () => {
		const {status, text} = await plan(sound);
		expect(status).toBe(0);
		for (const words of [
			'(fox, left): ESP32, 3.3 V',
			'None: nothing speaks against this plan.',
			'38.0 mm  20 mm   0.60   81 %    3302',
			'between 186 and 3040 counts',
			'gaps of 10–60 ms',
			'The battery lasts about',
			'Caution: Lithium cells',
			'5 servos, supply: separate. 1.5 A in work, 4.0 A when all are held fast.',
		]) {
			expect(text.replace(/\n +/g, ' ')).toContain(words);
		}
	});

	it('names each mistake with its line and a remedy, status 1', async () => {
		const {status, text} = await plan(mistaken);
		expect(status).toBe(1);
		const words = text.replace(/\n +/g, ' ');
		expect(words).toContain(
			'failure        line 5, index: GPIO18 leads to no converter. → Move it to GPIO32, GPIO33 or GPIO34.',
		);
		expect(words).toContain('line 8, button-1: GPIO35 has no pull-up: a button to ground floats there.');
		expect(words).toMatch(/The parts would put 5 V on pins that stand 3\.6 V at most\..*Caution: On a 3\.3 V board/);
	});

	it('says a mistake that several channels share once, with all of them', async () => {
		const channels = ['thumb', 'index', 'ring'].map(name => `[[channel]]\nname = "${name}"`).join('\n');
		const {text} = await plan(`${channels}\n[reel]\nspool_diameter_mm = 10\ncord_travel_mm = 38`);
		const words = text.replace(/\n +/g, ' ');
		expect(words).toContain('lines 1, 3 and 5, thumb, index and ring: 38.0 mm of cord on a 10 mm spool turn it');
		expect(text.match(/of cord on a/g)).toHaveLength(1);
	});

	it.each([80, 100])('keeps within %i columns', async columns => {
		for (const toml of [sound, mistaken]) {
			const {text} = await plan(toml, {}, columns);
			for (const line of text.split('\n'))
				if (!line.startsWith('Plan for')) expect(line.length, line).toBeLessThanOrEqual(columns);
		}
	});

	it('prints ASCII only when asked', async () => {
		expect((await plan(sound, {ascii: true})).text).toMatch(/^[\n -~]+$/);
	});

	it('prints everything as JSON', async () => {
		const {text, status} = await plan(mistaken, {json: true});
		const json = JSON.parse(text);
		expect(status).toBe(1);
		expect(json).toMatchObject({schema: 1, board: 'ESP32, 3.3 V', servos: null});
		expect(json.findings.map((finding: {code: string}) => finding.code).sort()).toEqual([
			'no-converter',
			'no-pull-up',
			'overvoltage',
		]);
	});

	it('refuses a sheet with a problem, naming the line', async () => {
		await expect(plan('[board]\nfamly = "esp32"')).rejects.toThrow(/glove\.toml line 2: unknown key "famly"/);
	});
});
