import type {OptionEntry} from '../option-entry.ts';

/** Options that say how it looks and sounds. */
export const looksOptions = {
	color: {kind: 'switch', on: true, help: 'Leaves out colour, as NO_COLOR in the environment does.'},
	ascii: {kind: 'switch', help: 'Draws with ASCII characters only.'},
	bell: {
		kind: 'switch',
		help: 'Begins with the bell on: one = proven or step done, two = lost or faulty. b switches it.',
	},
	page: {
		kind: 'choice',
		value: 'PAGE',
		words: ['overview', 'bench', 'trend', 'findings', 'checks', 'link', 'stick', 'keys'],
		help: 'The page to begin with.',
	},
	fps: {
		kind: 'number',
		value: 'NUMBER',
		least: 1,
		most: 60,
		takes: 'a number of redraws per second from 1 to 60',
		help: 'Redraws a second. Default: 10.',
	},
	'screen-reader': {kind: 'switch', help: 'Says what changes in lines, for a screen reader.'},
} as const satisfies Record<string, OptionEntry>;
