import type {Fault} from './fault.ts';

/** out-of-spec: every percentage is off until the declaration is put right. */
export const wrongFullScale: Fault = {
	code: 'wrong-full-scale',
	status: 'out-of-spec',
	scope: 'link',
	title: 'declared full scale is wrong',
	definition: 'The full scale that was declared is not the one of the board that sends.',
	physics:
		'A 10 bit converter ends at 1023, a 12 bit one at 4095. Readings above the declared end cannot be; readings that all end at a quarter of it come from a converter two bits shorter.',
	causes: [
		'The sheet or --full-scale names another board family.',
		"The firmware sets another resolution than the board's default, or scales its output.",
		'The glove was rebuilt with another board and the sheet was not.',
	],
	measurements: [
		{measure: 'Highest raw reading with a pot at its upper end', expect: '1023: 10 bit; 4095: 12 bit; 16383: 14 bit'},
		{measure: 'Board family printed on the module, beside the sheet', expect: 'the same'},
		{measure: 'Read the firmware: resolution and scaling of the readings', expect: 'as declared'},
	],
	remedy: [
		'Put the right full_scale into the sheet, or leave --full-scale out and let it be found out.',
		"Set the converter's resolution in the firmware explicitly.",
	],
	ways: [],
};
