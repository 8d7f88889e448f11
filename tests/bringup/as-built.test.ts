import {describe, expect, it} from 'vitest';
import {parseSheet} from '../../source/sheet/parse-sheet.ts';
import {sheetSessionOptions} from '../../source/sheet/sheet-session-options.ts';
import {writeSheet} from '../../source/sheet/write-sheet.ts';
import {runItems, sampleSimulation} from './sample-run.ts';

const designed = `
name = "the fox, left"
[board]
family = "atmega328p"
full_scale = 1023
${['thumb', 'index', 'middle', 'ring', 'little'].map((name, i) => `[[channel]]\nname = "${name}"\npin = "A${i}"\ncord_travel_mm = ${30 + i}`).join('\n')}
${['stick-x', 'stick-y', 'button-1', 'button-2'].map(name => `[[channel]]\nname = "${name}"`).join('\n')}
[link]
baud = 115_200
target_rate = 100
`;

describe('the sheet as built', () => {
	it('reads back as a sheet, and names every channel right the next time', async () => {
		const {sheet} = parseSheet(designed);
		const {items} = sampleSimulation(7, {swapped: ['index', 'ring'], reversed: ['little']});
		const first = await runItems(items, {sheet, session: sheetSessionOptions(sheet!)});
		const {sheet: built, problems} = parseSheet(writeSheet(first.result.asBuilt));
		expect(problems).toEqual([]);
		const second = await runItems(items, {sheet: built, session: sheetSessionOptions(built!)});
		expect(second.result.findings).toEqual([]);
		expect(second.result.verdict).toBe('pass');
		expect(second.result.asBuilt.channels.map(({name, min, max, inverted}) => ({name, min, max, inverted}))).toEqual(
			built!.channels.map(({name, min, max, inverted}) => ({name, min, max, inverted})),
		);
	});

	it('keeps a pin with its column, and what belongs to the finger with the finger', async () => {
		const {sheet} = parseSheet(designed);
		const {items} = sampleSimulation(7, {swapped: ['index', 'ring']});
		const {result} = await runItems(items, {sheet, session: sheetSessionOptions(sheet!)});
		const brief = result.asBuilt.channels.slice(0, 5).map(({name, pin, cordTravelMm}) => [name, pin, cordTravelMm]);
		expect(brief).toEqual([
			['thumb', 'A0', 30],
			['ring', 'A1', 33],
			['middle', 'A2', 32],
			['index', 'A3', 31],
			['little', 'A4', 34],
		]);
		expect(result.asBuilt.name).toBe('the fox, left');
	});

	it('has the ends of the travel as whole counts, lower end first, and the direction beside them', async () => {
		const {items} = sampleSimulation(7, {reversed: ['little']});
		const {result} = await runItems(items);
		for (const channel of result.asBuilt.channels.slice(0, 7)) {
			expect(Number.isInteger(channel.min) && Number.isInteger(channel.max)).toBe(true);
			expect(channel.max! - channel.min!).toBeGreaterThan(400);
			expect(channel.inverted).toBe(channel.name === 'little');
		}
	});

	it('leaves what was not measured as it was designed', async () => {
		const {sheet} = parseSheet(designed.replace('pin = "A1"', 'pin = "A1"\nmin = 11\nmax = 99'));
		const {items} = sampleSimulation(7);
		const {result} = await runItems(
			items.filter(({t}) => t < 8),
			{sheet, session: sheetSessionOptions(sheet!)},
		);
		expect(result.asBuilt.channels[1]).toMatchObject({name: 'index', pin: 'A1', min: 11, max: 99});
		expect(result.asBuilt.channels[1].inverted).toBeUndefined();
	});
});
