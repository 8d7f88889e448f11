import type {BoardSpec} from './boards.ts';
import type {Random} from './random.ts';

/** Why the board started. */
export type BootReason = 'power' | 'brown-out' | 'watchdog' | 'panic';

const esp32Reasons: Readonly<Record<BootReason, readonly string[]>> = {
	power: ['rst:0x1 (POWERON_RESET)'],
	'brown-out': ['rst:0xc (SW_CPU_RESET)', 'rst:0xf (RTCWDT_BROWN_OUT_RESET)'],
	watchdog: ['rst:0x8 (TG1WDT_SYS_RESET)', 'rst:0x7 (TG0WDT_SYS_RESET)'],
	panic: ['rst:0xc (SW_CPU_RESET)'],
};

const banners = [
	'marionette glove ready',
	'Puppet glove, left hand',
	'dragon hand v2 starting',
	'theatre glove 0.4',
	'glove: 5 reels, stick ok',
	'START',
	'calibration loaded',
	'hello from the workshop',
	'reading EEPROM... done',
];

/** Lines of a sketch of our own. */
function sketchBanner(random: Random): string[] {
	return random.shuffle(banners).slice(0, random.integer(1, 3));
}

/**
 * What a board prints when it starts, as lines without their ends. ESP32: the shape of its boot ROM's text (check-values
 * S14–S17), with segment addresses and lengths drawn.
 */
export function bootText(board: BoardSpec, reason: BootReason, random: Random): string[] {
	if (board.bootText === 'none') return [];
	if (board.bootText === 'sketch') return sketchBanner(random);
	const hex = (low: number, high: number): string => random.integer(low, high).toString(16);
	const before: string[] = [];
	if (reason === 'brown-out') before.push('', 'Brownout detector was triggered', '');
	if (reason === 'panic') {
		before.push(
			`Guru Meditation Error: Core  ${random.integer(0, 1)} panic'ed (LoadProhibited). Exception was unhandled.`,
			'',
		);
	}
	const load = (): string => `load:0x${hex(0x3fff0000, 0x40080000)},len:${random.integer(4, 16000)}`;
	return [
		...before,
		random.pick(['ets Jun  8 2016 00:22:57', 'ets Jul 29 2019 12:21:46']),
		'',
		`${random.pick(esp32Reasons[reason])},boot:0x13 (SPI_FAST_FLASH_BOOT)`,
		`configsip: ${random.integer(0, 999999999)}, SPIWP:0xee`,
		'clk_drv:0x00,q_drv:0x00,d_drv:0x00,cs0_drv:0x00,hd_drv:0x00,wp_drv:0x00',
		`mode:DIO, clock div:${random.pick([1, 2])}`,
		load(),
		load(),
		'ho 0 tail 12 room 4',
		load(),
		`entry 0x4008${hex(0x0000, 0xffff).padStart(4, '0')}`,
		...(random.chance(0.4) ? sketchBanner(random) : []),
	];
}
