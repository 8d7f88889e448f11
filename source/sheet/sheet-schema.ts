import {baudRange} from '../baud-range.ts';
import {hands} from '../mount/pose-form.ts';
import {boards} from './boards/all.ts';
import {framings, linkKinds, powerSources, servoSupplies} from './sheet.ts';

/** What a key takes. */
export type KeyRule = {
	readonly kind: 'text' | 'whole' | 'number' | 'switch' | 'choice' | 'channel' | 'pin' | 'numbers' | 'vector';
	readonly words?: readonly string[];
	readonly least?: number;
	readonly most?: number;
	/** Of a `vector`: how many numbers. */
	readonly size?: number;
	/** For the comments of a new sheet and for the docs. */
	readonly meaning: string;
	/** As it stands in a sheet. */
	readonly example: string;
	readonly required?: boolean;
};

export type TableRule = {
	readonly meaning: string;
	/** Written `[[name]]`, once per channel. */
	readonly repeated?: boolean;
	readonly keys: Readonly<Record<string, KeyRule>>;
};

const reel: Readonly<Record<string, KeyRule>> = {
	spool_diameter_mm: {
		kind: 'number',
		least: 1,
		most: 200,
		meaning: 'diameter of the spool where the cord lies',
		example: '16',
	},
	electrical_angle_deg: {
		kind: 'number',
		least: 30,
		most: 3600,
		meaning: "angle of the pot's track: about 270 for panel pots, 3600 for ten turns",
		example: '270',
	},
	cord_travel_mm: {
		kind: 'number',
		least: 1,
		most: 500,
		meaning: 'cord pulled from open hand to fist, by ruler',
		example: '38',
	},
	joint_radii_mm: {
		kind: 'numbers',
		least: 1,
		most: 100,
		meaning: "cord's distance from each joint's axis, knuckle first; gives the travel where it is not measured",
		example: '[10, 8, 6]',
	},
	pot_ohms: {kind: 'number', least: 100, most: 10_000_000, meaning: 'value of the pots', example: '10_000'},
};

/** A place in mm. No tracker sits farther from the hand than a metre. */
const place = {kind: 'vector', size: 3, least: -1000, most: 1000} as const;

/** Keys above the first table. */
export const topKeys: Readonly<Record<string, KeyRule>> = {
	name: {kind: 'text', meaning: 'what this glove is called', example: '"left glove of the fox"'},
	note: {kind: 'text', meaning: 'anything worth knowing', example: '"spools printed in PETG"'},
};

/** Every table of a sheet. Parsing, comments of a new sheet and the docs are made from this. */
export const sheetSchema: Readonly<Record<string, TableRule>> = {
	board: {
		meaning: 'The microcontroller.',
		keys: {
			family: {
				kind: 'choice',
				words: [...boards.map(board => board.family), 'other'],
				meaning: 'chip on the board',
				example: '"esp32"',
			},
			full_scale: {
				kind: 'whole',
				least: 1,
				most: 2 ** 24,
				meaning: 'highest count of the converter: 1023 at 10 bit, 4095 at 12, 16383 at 14',
				example: '4095',
			},
			supply_volts: {
				kind: 'number',
				least: 0.5,
				most: 30,
				meaning: 'what feeds pots, stick and pull-ups',
				example: '3.3',
			},
		},
	},
	channel: {
		meaning: 'One value of the frame. Write them in the order in which the board sends them.',
		repeated: true,
		keys: {
			name: {
				kind: 'channel',
				meaning: 'thumb index middle ring little, stick-x stick-y, button-1 …, counter, clock, spare-1 … or -',
				example: '"index"',
				required: true,
			},
			pin: {
				kind: 'pin',
				meaning: 'as the board names it; "GPIO32/3" is input 3 of a multiplexer there',
				example: '"GPIO32"',
			},
			inverted: {
				kind: 'switch',
				meaning: 'true where the reading falls when the finger bends, or the stick goes right or down',
				example: 'false',
			},
			min: {kind: 'whole', least: 0, most: 2 ** 24, meaning: 'counts at the lower end of the travel', example: '310'},
			max: {kind: 'whole', least: 0, most: 2 ** 24, meaning: 'counts at the upper end of the travel', example: '3480'},
			supply_volts: {
				kind: 'number',
				least: 0.5,
				most: 30,
				meaning: 'what feeds this part, where it is not what feeds the others',
				example: '3.3',
			},
			...reel,
		},
	},
	reel: {meaning: 'The reels; a channel can have its own figures.', keys: reel},
	link: {
		meaning: 'The way to the computer.',
		keys: {
			kind: {kind: 'choice', words: linkKinds, meaning: 'usb, serial, bluetooth or wifi', example: '"usb"'},
			baud: {kind: 'whole', ...baudRange, meaning: 'speed of the serial line', example: '115_200'},
			target_rate: {
				kind: 'number',
				least: 0.1,
				most: 10_000,
				meaning: 'frames per second the firmware is meant to send',
				example: '60',
			},
			framing: {
				kind: 'choice',
				words: framings,
				meaning: 'how frames are cut: text, json, slip or cobs',
				example: '"text"',
			},
			frame_bytes: {
				kind: 'whole',
				least: 1,
				most: 65_536,
				meaning: 'bytes of the longest frame with its end; estimated where missing',
				example: '40',
			},
		},
	},
	power: {
		meaning: 'What feeds the glove.',
		keys: {
			source: {kind: 'choice', words: powerSources, meaning: 'usb, battery or power-bank', example: '"usb"'},
			battery_mah: {
				kind: 'number',
				least: 1,
				most: 1_000_000,
				meaning: 'what is printed on the battery or power bank, in mAh',
				example: '1000',
			},
			battery_volts: {kind: 'number', least: 0.5, most: 60, meaning: 'its voltage', example: '3.7'},
			current_ma: {
				kind: 'number',
				least: 0.01,
				most: 20_000,
				meaning: 'measured current of board and sensors; estimated where missing',
				example: '80',
			},
		},
	},
	servos: {
		meaning: 'Servos the same board drives.',
		keys: {
			count: {kind: 'whole', least: 0, most: 100, meaning: 'how many', example: '5'},
			stall_ma: {kind: 'number', least: 1, most: 50_000, meaning: 'current of each when held fast', example: '800'},
			working_ma: {kind: 'number', least: 1, most: 50_000, meaning: 'current of each in work', example: '300'},
			supply: {
				kind: 'choice',
				words: servoSupplies,
				meaning: 'separate (its own, grounds joined), usb or board',
				example: '"separate"',
			},
		},
	},
	limits: {
		meaning: 'What a reel has to keep in the bring-up.',
		keys: {
			min_travel_percent: {
				kind: 'number',
				least: 0,
				most: 100,
				meaning: 'least travel, % of full scale',
				example: '50',
			},
			max_return_error_percent: {
				kind: 'number',
				least: 0,
				most: 100,
				meaning: 'most difference of the rest level after letting go, % of full scale',
				example: '3',
			},
			max_roughness_percent: {
				kind: 'number',
				least: 0,
				most: 100,
				meaning: 'most unevenness of a slow pull, % of full scale',
				example: '2',
			},
			max_dropouts: {kind: 'whole', least: 0, most: 1000, meaning: 'most dropouts', example: '0'},
			max_noise_percent: {
				kind: 'number',
				least: 0,
				most: 100,
				meaning: 'most noise at rest, rms, % of full scale',
				example: '0.6',
			},
		},
	},
	mount: {
		meaning: 'How a tracker sits on the hand, as glovebench mount finds it.',
		keys: {
			hand: {kind: 'choice', words: hands, meaning: 'left or right', example: '"right"'},
			origin_from_pivot_mm: {
				...place,
				meaning:
					"from the pivot point to the hand's origin by ruler: x right, y out of the back of the hand, z to the wrist",
				example: '[0, -10, 95]',
			},
			tracker_to_hand_mm: {...place, meaning: "the hand's origin in the tracker's axes", example: '[4.2, -31.0, 88.5]'},
			uncertain_mm: {
				...place,
				least: 0,
				meaning: 'half width of its region that is right in 95 of 100 cases',
				example: '[3.1, 2.8, 3.4]',
			},
			tracker_to_hand_wxyz: {
				kind: 'vector',
				size: 4,
				least: -1,
				most: 1,
				meaning: "the rotation from the hand's axes to the tracker's, a unit quaternion",
				example: '[0.9962, 0.0872, 0, 0]',
			},
			uncertain_deg: {
				kind: 'number',
				least: 0,
				most: 180,
				meaning: 'half width of its region that is right in 95 of 100 cases',
				example: '4.8',
			},
		},
	},
};

/** What a key takes, in words: `a whole number from 1 to 65536`. */
export function takes(rule: KeyRule): string {
	const between = rule.least === undefined ? '' : ` from ${rule.least} to ${rule.most}`;
	switch (rule.kind) {
		case 'text':
			return 'a line of text in quotes';
		case 'whole':
			return `a whole number${between}`;
		case 'number':
			return `a number${between}`;
		case 'numbers':
			return `one to three numbers${between} in brackets, such as ${rule.example}`;
		case 'vector':
			return `${rule.size} numbers${between} in brackets, such as ${rule.example}`;
		case 'switch':
			return 'true or false';
		case 'choice':
			return `one of ${rule.words?.join(', ')}`;
		case 'pin':
			return 'the name or number of a pin, such as "GPIO32", "A0" or 32';
		case 'channel':
			return rule.meaning;
	}
}
