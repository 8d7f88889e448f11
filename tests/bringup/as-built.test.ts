import {describe, expect, it} from 'vitest';
import {asBuiltNotes} from '../../source/bringup/as-built-notes.ts';
import {bringUpText} from '../../source/bringup/bring-up-text.ts';
import {parseSheet} from '../../source/sheet/parse-sheet.ts';
import {sheetSessionOptions} from '../../source/sheet/sheet-session-options.ts';
import {writeSheet} from '../../source/sheet/write-sheet.ts';
import {itemsOf, rowsOf} from '../fit/simulated.ts';
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

	it('says in notes where the frame is otherwise than its names: fingers, buttons, directions, what is open', async () => {
		const {sheet} = parseSheet(designed.replace('name = "button-1"', 'name = "button-1"\npin = "D2"'));
		const {items} = sampleSimulation(7, {swapped: ['index', 'ring'], reversed: ['little']});
		const exchanged = rowsOf(items).map(row => [...row.slice(0, 7), row[8], row[7]]);
		const {result} = await runItems(itemsOf(exchanged, 100), {sheet, session: sheetSessionOptions(sheet!)});
		expect(result.acceptance.slice(-2)).toEqual([
			{name: 'button-1', verdict: 'fail', reasons: ['answers on the channel called button-2']},
			{name: 'button-2', verdict: 'fail', reasons: ['answers on the channel called button-1']},
		]);
		expect(asBuiltNotes(result)).toEqual([
			'index is on value 4 of the frame (pin A3), where ring was expected: it stands there below.',
			'ring is on value 2 of the frame (pin A1), where index was expected: it stands there below.',
			'button-1 is on value 9 of the frame, where button-2 was expected: it stands there below.',
			'button-2 is on value 8 of the frame (pin D2), where button-1 was expected: it stands there below.',
			'little falls as the finger bends: inverted below.',
		]);
		const early = await runItems(items.filter(({t}) => t < 8));
		expect(asBuiltNotes(early.result).at(-1)).toBe(
			'Not measured, as designed: index, middle, ring, little, stick, button-1, button-2.',
		);
		expect(bringUpText(result, 'fox.gbrec')).toContain('button-1: fail, sent as button-2');
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
