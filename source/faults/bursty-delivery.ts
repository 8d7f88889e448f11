import type {Fault} from './fault.ts';
import {before} from './figures.ts';

/** function-check: the board sends evenly and every frame is good; only the way here needs a setting. */
export const burstyDelivery: Fault = {
	code: 'bursty-delivery',
	status: 'function-check',
	scope: 'link',
	title: 'frames arrive in clumps',
	definition: 'Frames come in groups with pauses between, while the board sends evenly.',
	physics:
		'USB serial bridges collect bytes until a packet is full (62 bytes on a common family) or a latency timer runs out, 16 ms by default. Bluetooth serial collects several lines per radio slot. The mean rate is right, the age of each frame is not.',
	causes: [
		"The USB bridge's latency timer of 16 ms.",
		'Bluetooth serial: clumps with gaps of 10–60 ms are its nature.',
		'A program in between (terminal, virtual machine, network bridge) that buffers.',
		'The firmware collects several lines before it sends.',
	],
	measurements: [
		{measure: 'Latency timer of the port (driver settings; sysfs on Linux)', expect: '1 ms; 16 ms is the default'},
		{measure: 'Spacing of the clumps', expect: '16 ms: the latency timer; 10–60 ms and uneven: Bluetooth'},
		{measure: "Add the board's clock to each frame", expect: 'even: only delivery is in clumps'},
		{measure: 'The same glove on a cable', expect: 'even: the radio does it'},
	],
	remedy: [
		'Set the latency timer to 1 ms.',
		"Use the board's clock column for timing.",
		'Accept it on Bluetooth, and smooth with it in mind.',
	],
	ways: [],
};
