import type {Layout} from '../../source/framing/layout.ts';

/** A glove that counts its frames and tells its milliseconds, as generator W prints them, and has a button. */
export const linkLayout: Layout = {
	framing: 'text',
	separator: ',',
	labelled: true,
	checksum: null,
	unit: null,
	channels: [
		{index: 0, name: 'counter', role: 'counter'},
		{index: 1, name: 'clock', role: 'clock', clockUnitSeconds: 0.001},
		...['thumb', 'index', 'middle', 'ring', 'little'].map((name, i) => ({index: 2 + i, name, role: 'finger'}) as const),
		{index: 7, name: 'button-1', role: 'button'},
	],
};
