import {describe, expect, it} from 'vitest';
import {makePlan} from '../../source/plan/make-plan.ts';
import {boards, findBoard} from '../../source/sheet/boards/all.ts';
import {newSheet} from '../../source/sheet/new-sheet.ts';
import {parseSheet} from '../../source/sheet/parse-sheet.ts';
import type {Sheet} from '../../source/sheet/sheet.ts';

function planOf(toml: string) {
	const {sheet, problems} = parseSheet(toml);
	expect(problems).toEqual([]);
	return makePlan(sheet as Sheet);
}

/** `status code channel` of each finding. */
function found(toml: string): string[] {
	return planOf(toml).findings.map(({status, code, channel}) => `${status} ${code} ${channel ?? '-'}`);
}

const channel = (name: string, pin: string | number, more = '') =>
	`[[channel]]\nname = "${name}"\npin = ${JSON.stringify(pin)}\n${more}\n`;
const board = (family: string, more = '') => `[board]\nfamily = "${family}"\n${more}\n`;

describe('a new sheet', () => {
	it.each(boards.flatMap(each => [true, false].map(stick => [each.family, stick, each] as const)))(
		'for %s (stick: %s) has nothing against it',
		(_, stick, each) => {
			const link = each.radios[0] ?? 'usb';
			const sheet = newSheet({board: each, stick, buttons: 2, link, spoolDiameterMm: 20});
			// An ESP32 has six inputs for five fingers and two axes: the last one is lent by Wi-Fi.
			const expected = each.family === 'esp32' && stick ? ['stick-y radio-converter function-check'] : [];
			expect(makePlan(sheet).findings.map(({channel, code, status}) => `${channel} ${code} ${status}`)).toEqual(
				expected,
			);
		},
	);
});

it('a new sheet for an ESP32 with Wi-Fi goes through a multiplexer and has nothing against it', () => {
	const sheet = newSheet({board: findBoard('esp32')!, stick: true, buttons: 2, link: 'wifi', spoolDiameterMm: 20});
	expect(sheet.channels[6].pin).toMatch(/^GPIO3\d\/6$/);
	expect(makePlan(sheet).findings).toEqual([]);
});

describe('pins', () => {
	it('a finger on a pin without converter is a failure, with pins that would do', () => {
		const [finding] = planOf(board('esp32') + channel('thumb', 18)).findings;
		expect(finding).toMatchObject({code: 'no-converter', status: 'failure', channel: 'thumb', line: 4});
		expect(finding.advice).toBe('Move it to GPIO32, GPIO33 or GPIO34.');
	});

	it('a finger on a converter that Wi-Fi takes is a failure with Wi-Fi, and worth a look without', () => {
		const sheet = board('esp32') + channel('thumb', 25);
		expect(found(`${sheet}[link]\nkind = "wifi"`)).toEqual(['failure radio-converter thumb']);
		expect(found(`${sheet}[link]\nkind = "bluetooth"`)).toEqual(['function-check radio-converter thumb']);
		expect(found(sheet)).toEqual(['function-check radio-converter thumb']);
	});

	it('a finger on the second converter of an ESP32-C3 is out-of-spec whatever the link', () => {
		expect(found(board('esp32-c3') + channel('ring', 'GPIO5'))).toEqual(['out-of-spec unreliable-converter ring']);
	});

	it('a button wants a digital input and a pull-up', () => {
		expect(found(board('atmega328p') + channel('button-1', 'A6'))).toEqual(['failure no-digital-input button-1']);
		expect(found(board('esp32') + channel('button-1', 34))).toEqual(['failure no-pull-up button-1']);
		expect(found(board('atmega328p') + channel('button-1', 'A5'))).toEqual([]);
	});

	it('pins of flash, serial line and start-up are named with what uses them', () => {
		const plan = planOf(board('esp32') + channel('button-1', 6) + channel('button-2', 0) + channel('button-3', 16));
		expect(plan.findings.map(({status, code, channel: name}) => `${status} ${code} ${name}`)).toEqual([
			'failure taken-pin button-1',
			'out-of-spec strapping-pin button-2',
			'function-check taken-pin button-3',
		]);
		expect(plan.findings[0].summary).toContain('flash memory');
		expect(plan.findings[1].summary).toContain('low at reset starts the loader');
		expect(found(board('atmega328p') + channel('button-1', 0))).toEqual(['failure taken-pin button-1']);
	});

	it('two channels on one pin are a failure, whatever they are called', () => {
		const plan = planOf(board('atmega328p') + channel('thumb', 'A0') + channel('index', 14));
		expect(plan.findings).toMatchObject([
			{code: 'shared-pin', channel: 'index', line: 8, summary: 'index and thumb are both on A0'},
		]);
	});

	it('channels behind one multiplexer share its pin, but not its inputs, and nobody else has it', () => {
		const mux = board('rp2040') + channel('thumb', 'GP26/0') + channel('index', 'GP26/1');
		expect(found(mux)).toEqual([]);
		expect(found(mux + channel('ring', 'GP26/1'))).toEqual(['failure shared-pin ring']);
		expect(found(mux + channel('ring', 'GP26'))).toEqual(['failure shared-pin ring']);
		expect(found(board('rp2040') + channel('ring', 'GP26') + channel('thumb', 'GP26/0'))).toEqual([
			'failure shared-pin thumb',
		]);
	});

	it('a pin the board has not is a failure; a channel without a pin wants one', () => {
		expect(
			found(`${board('esp32') + channel('thumb', 24)}[[channel]]\nname = "index"\n[[channel]]\nname = "counter"`),
		).toEqual(['failure unknown-pin thumb', 'function-check no-pin index']);
	});
});

describe('voltages', () => {
	it('5 V parts on a 3.3 V board are a failure with a caution', () => {
		const [finding] = planOf(board('esp32', 'supply_volts = 5') + channel('thumb', 32)).findings;
		expect(finding).toMatchObject({code: 'overvoltage', status: 'failure', channel: null});
		expect(finding.caution).toContain('3.6 V');
	});

	it('one 5 V part among others is named', () => {
		const sheet = board('esp32') + channel('thumb', 32) + channel('stick-x', 33, 'supply_volts = 5');
		expect(planOf(sheet).findings).toMatchObject([{code: 'overvoltage', channel: 'stick-x', line: 8}]);
	});

	it('pots on 3.3 V of a 5 V converter end at 66 %', () => {
		const [finding] = planOf(board('atmega328p', 'supply_volts = 3.3') + channel('thumb', 'A0')).findings;
		expect(finding).toMatchObject({code: 'low-feed', status: 'out-of-spec'});
		expect(finding.summary).toContain('66 %');
	});

	it('a tolerance of 5 % is no mistake', () => {
		expect(found(board('atmega328p', 'supply_volts = 4.8') + channel('thumb', 'A0'))).toEqual([]);
	});
});

describe('reels', () => {
	const reel = (text: string) => `${board('atmega328p') + channel('index', 'A0')}[reel]\n${text}\n`;

	// Worked: 42.045 mm on 16 mm want 301.1° of 270°; 22.3 mm would use 80 %.
	it('a pull longer than the track is out-of-spec, with the spool that would do', () => {
		const plan = planOf(reel('spool_diameter_mm = 16\njoint_radii_mm = [10.1, 9.8, 6.5]'));
		expect(plan.findings).toMatchObject([{code: 'track-too-short', status: 'out-of-spec', channel: 'index'}]);
		expect(plan.findings[0].summary).toContain('turn it by 301°, the track has 270°');
		expect(plan.findings[0].advice).toContain('22.3 mm');
		expect(plan.reels[0]).toMatchObject({travelFrom: 'radii', spanCounts: 1023});
	});

	it('too little of the track is out-of-spec, hardly any a failure', () => {
		expect(found(reel('spool_diameter_mm = 60\ncord_travel_mm = 40'))).toEqual(['out-of-spec little-travel index']);
		expect(found(reel('spool_diameter_mm = 16\ncord_travel_mm = 40\nelectrical_angle_deg = 3600'))).toEqual([
			'failure little-travel index',
		]);
	});

	it("takes a channel's own figures before the common ones", () => {
		const sheet = `${board('atmega328p') + channel('thumb', 'A0', 'cord_travel_mm = 21')}[reel]\nspool_diameter_mm = 20\ncord_travel_mm = 38\n`;
		const [thumb] = planOf(sheet).reels;
		expect(thumb.travelMm).toBe(21);
		// 21 mm / (π · 20 mm) · 360° = 120.3°; of 270° and 1023 counts.
		expect(thumb.spoolAngleDeg).toBeCloseTo(120.32, 2);
		expect(thumb.spanCounts).toBeCloseTo(455.9, 1);
		expect(thumb.countsPerFingerDegree).toBeCloseTo(455.9 / 135, 2);
	});

	it('estimates a travel that was not measured, and says so', () => {
		const [index] = planOf(reel('spool_diameter_mm = 20')).reels;
		expect(index).toMatchObject({travelFrom: 'usual radii', travelMm: expect.closeTo(38.048, 3)});
	});
});

describe('converter', () => {
	it('100 kΩ pots are too weak a source for an ATmega328P and fine for an nRF52840', () => {
		const pots = '[reel]\npot_ohms = 100_000\n';
		expect(found(board('atmega328p') + channel('index', 'A0') + pots)).toEqual(['out-of-spec weak-source -']);
		expect(found(board('nrf52840') + channel('index', 'AIN0') + pots)).toEqual([]);
		expect(planOf(board('nrf52840') + channel('index', 'AIN0') + pots).converter).toMatchObject({
			samplingMicroseconds: 5,
		});
	});

	it('10 kΩ pots settle in time', () => {
		const {converter} = planOf(board('atmega328p') + channel('index', 'A0'));
		expect(converter).toMatchObject({
			sourceOhms: 2500,
			settlingMicroseconds: expect.closeTo(10.941, 2),
			samplingMicroseconds: 12,
		});
	});

	it('gives the counts between which an ESP32 is straight', () => {
		expect(planOf(board('esp32') + channel('index', 32)).converter?.straightCounts).toEqual([186, 3040]);
	});

	it('a full scale the board has not is out-of-spec, one it can be set to is not', () => {
		expect(found(board('atmega328p', 'full_scale = 4095') + channel('index', 'A0'))).toEqual([
			'out-of-spec unusual-full-scale -',
		]);
		expect(found(board('nrf52840', 'full_scale = 16383') + channel('index', 'AIN0'))).toEqual([]);
	});
});

describe('link', () => {
	it('a line that cannot carry the frames is a failure, a full one out-of-spec, a tight one worth a look', () => {
		const sheet = (rate: number) =>
			`${board('esp32') + channel('index', 32)}[link]\nkind = "usb"\nbaud = 9600\nframe_bytes = 32\ntarget_rate = ${rate}`;
		expect(found(sheet(31))).toEqual(['failure line-load -']);
		expect(found(sheet(28))).toEqual(['out-of-spec line-load -']);
		expect(found(sheet(22))).toEqual(['function-check line-load -']);
		expect(found(sheet(20))).toEqual([]);
	});

	it('counts no baud rate where a chip has USB of its own, or the radio carries it', () => {
		for (const [family, pin, kind] of [
			['rp2040', 26, 'usb'],
			['esp32', 32, 'bluetooth'],
			['esp32', 32, 'wifi'],
		] as const) {
			expect(planOf(`${board(family) + channel('index', pin)}[link]\nkind = "${kind}"`).link).toMatchObject({
				baud: null,
				load: null,
			});
		}
	});
});

describe('rate of a 16 MHz board', () => {
	const at = (baud: number) => planOf(`${board('atmega328p') + channel('index', 'A0')}[link]\nbaud = ${baud}\n`);

	// Source: ATmega640–2560 data sheet, table for 16 MHz: 115.2k −3.5 | +2.1, 250k exact.
	it('beyond the recommended 2 % gets a note, an exact one none', () => {
		expect(at(115_200).findings).toEqual([]);
		expect(at(115_200).link.notes.join(' ')).toContain('-3.5 % or +2.1 %');
		expect(at(250_000).link.notes.join(' ')).not.toContain('exact partner');
	});

	// Worked: 16 MHz / 8 / 921600 = 2.17, so a divisor of 2: 1 Mbaud, +8.5 %.
	it('that no receiver stands is out-of-spec', () => {
		expect(at(921_600).findings.map(({code, status}) => [code, status])).toEqual([['impossible-baud', 'out-of-spec']]);
	});
});

describe('power and servos', () => {
	const glove = board('nrf52840') + channel('index', 'AIN0');

	it('warns of a power bank that will switch off, with caution', () => {
		const [finding] = planOf(`${glove}[power]\nsource = "power-bank"\nbattery_mah = 5000`).findings;
		expect(finding).toMatchObject({
			code: 'power-bank-off',
			status: 'out-of-spec',
			caution: expect.stringContaining('Lithium'),
		});
		expect(found(`${glove}[power]\nsource = "power-bank"\ncurrent_ma = 80`)).toEqual([
			'function-check power-bank-off -',
		]);
		expect(found(`${glove}[power]\nsource = "power-bank"\ncurrent_ma = 150`)).toEqual([]);
	});

	it('gives battery time from measured current', () => {
		expect(
			planOf(`${glove}[power]\nsource = "battery"\nbattery_mah = 1000\ncurrent_ma = 80`).power.batteryHours,
		).toBeCloseTo(10);
	});

	it('a board of 5 V on one cell needs a step-up converter; more than a USB port gives is out-of-spec', () => {
		const avr = `${board('atmega328p') + channel('index', 'A0')}[link]\nbaud = 250000\n`;
		expect(found(`${avr}[power]\nsource = "battery"\nbattery_volts = 3.7`)).toEqual([
			'function-check low-battery-voltage -',
		]);
		expect(found(`${avr}[power]\ncurrent_ma = 600`)).toEqual(['out-of-spec usb-current -']);
	});

	// Worked: 5 × 800 mA = 4 A.
	it('servos on USB or the board are a failure; on their own supply they get a caution', () => {
		const [finding] = planOf(`${glove}[servos]\ncount = 5\nsupply = "usb"`).findings;
		expect(finding).toMatchObject({
			code: 'servo-supply',
			status: 'failure',
			caution: expect.stringContaining('own supply'),
		});
		expect(finding.summary).toContain('4.0 A');
		const plan = planOf(`${glove}[servos]\ncount = 5\nsupply = "separate"`);
		expect(plan.findings).toEqual([]);
		expect(plan.servos?.caution).toContain('clear of their arms');
	});
});

describe('an incomplete sheet', () => {
	it('says what was not checked', () => {
		expect(found('')).toEqual(['function-check no-board -', 'function-check no-channels -']);
		expect(found('[board]\nfamily = "other"\n[[channel]]\nname = "ring"\npin = 3')).toEqual([
			'function-check no-board -',
		]);
	});
});
