import type {Board, Pin} from './board.ts';
import {boards} from './boards/all.ts';
import {defaultLimits} from './sheet.ts';
import {type KeyRule, sheetSchema, takes, topKeys} from './sheet-schema.ts';

function cell(text: string): string {
	return text.replace(/[|\\<>*[\]]/g, sign => `\\${sign}`);
}

function keyTable(keys: Readonly<Record<string, KeyRule>>): string[] {
	return [
		'| key | meaning | takes | example |',
		'|---|---|---|---|',
		...Object.entries(keys).map(([key, rule]) => {
			const what = rule.kind === 'channel' ? 'a channel name' : takes(rule);
			return `| \`${key}\`${rule.required ? ' (needed)' : ''} | ${cell(rule.meaning)} | ${cell(what)} | \`${rule.example}\` |`;
		}),
		'',
	];
}

function pinNotes(pin: Pin): string {
	return [
		...(pin.inputOnly ? ['input only'] : []),
		...(pin.digital ? [] : ['no digital input']),
		...(pin.strapping ? [`strapping: ${pin.strapping}`] : []),
		...(pin.reserved ? [`${pin.reserved.firmly ? 'taken' : 'often taken'} by ${pin.reserved.by}`] : []),
	].join('; ');
}

function boardSection(board: Board): string[] {
	return [
		`### ${board.family}`,
		'',
		`${board.title}. Converter: ${board.converter.bits.map(bits => `${bits} bit`).join(', ')}; pins stand ${board.pinVoltsMost} V.`,
		'',
		'| pin | converter | pull-up | notes |',
		'|---|---|---|---|',
		...board.pins.map(pin => {
			const analog = pin.analog ? `${pin.analog.converter}, channel ${pin.analog.channel}` : '';
			return `| ${pin.name} | ${analog} | ${pin.pullUp ? 'yes' : 'no'} | ${cell(pinNotes(pin))} |`;
		}),
		'',
		...board.notes.flatMap(note => [cell(note), '']),
		'Sources:',
		'',
		...board.sources.map(source => `- ${cell(source)}`),
		'',
	];
}

/** The page `docs/sheet.md`: every key of the sheet and every board with its pins. */
export function sheetPage(): string {
	return [
		'# The sheet',
		'',
		'Generated from the schema by `npm run docs`; do not edit.',
		'',
		'A sheet is a TOML file that says how a glove is built. `glovebench sheet new` writes one, `glovebench sheet check FILE` checks it,',
		'`glovebench plan FILE` looks for mistakes before anything is soldered, and `--sheet FILE` tells any other command about the glove.',
		'Every key is optional unless marked. Unknown keys and bad values are errors, with their line.',
		'',
		'## Above the tables',
		'',
		...keyTable(topKeys),
		...Object.entries(sheetSchema).flatMap(([name, table]) => [
			`## ${table.repeated ? `[[${name}]]` : `[${name}]`}`,
			'',
			cell(table.meaning),
			'',
			...keyTable(table.keys),
			...(name === 'limits'
				? [
						`Without them: ${Object.entries(defaultLimits)
							.map(([key, value]) => `${key.replace(/[A-Z]/g, letter => `_${letter.toLowerCase()}`)} ${value}`)
							.join(', ')}.`,
						'',
					]
				: []),
		]),
		'## Boards',
		'',
		'A pin can be written in other usual ways: `32`, `IO32` or `D32` for `GPIO32`, `A0` or `14` for the first analog input of an ATmega328P,',
		'`AIN0` or `P0.2` for `P0.02`. `/3` after it means input 3 of a multiplexer.',
		'',
		...boards.flatMap(boardSection),
	]
		.join('\n')
		.replace(/\n+$/, '\n');
}
