/** How the board writes its frames: plain JSON. */
export type StreamSpec = {
	/** Frames per second the board aims at. */
	readonly rate: number;
	readonly framing: 'text' | 'json' | 'slip' | 'cobs';
	/** Between values of a text frame. */
	readonly separator: string;
	/** Between label and value (`:`, `=`); null: no labels. */
	readonly labelMark: string | null;
	/** Full names (`thumb`), capitalised (`Thumb`) or letters (`t`). JSON keys follow it too. */
	readonly labelStyle: 'full' | 'capital' | 'letter';
	/** Around a text frame: `''`, `'[]'`, `'()'`, `'<>'`. */
	readonly brackets: string;
	readonly lineEnd: '\r\n' | '\n' | '\r';
	/** Column names once, after every start of the board. */
	readonly header: boolean;
	/** Modulus of the frame counter; 0: none. */
	readonly counter: number;
	/** The board's own time as a column. */
	readonly clock: 'none' | 'ms' | 'us';
	/** Counter and clock before the readings, or after them. */
	readonly metaFirst: boolean;
	/** Values padded to this width, 0: not at all; `pad` is a space or `0`. */
	readonly padWidth: number;
	readonly pad: ' ' | '0';
	/** Written after every analog value, e.g. ` mV`. */
	readonly unit: string;
	/** CRC-16 at the end of a packet (low byte first). */
	readonly crc: 'none' | 'xmodem' | 'kermit' | 'modbus' | 'ibm-3740';
	/** Names in the order sent, for labelled streams that do not follow the scan; null: scan order. */
	readonly order: readonly string[] | null;
};

/** How the bytes travel: plain JSON. */
export type LinkSpec = {
	/** Symbol rate of the serial line; null where there is none (native USB, TCP). */
	readonly baud: number | null;
	/**
	 * `direct`: whole frames as they end. `poll`: whatever has come, every `pollMs` (USB frames 1 ms; the latency timer
	 * of a bridge chip, check-values U13), or when `packetBytes` have.
	 */
	readonly delivery: 'direct' | 'poll';
	readonly pollMs: number;
	/** 62 for a bridge with 64-byte packets (check-values U13); 0: no limit. */
	readonly packetBytes: number;
	/** Mean of the exponential delay until the host's program has the bytes, milliseconds. */
	readonly hostDelayMs: number;
	/** Unsteadiness of the board's loop, share of the frame interval, rms. */
	readonly senderJitter: number;
	/** How much slower than nominal the board's clock runs, share (check-values U21). */
	readonly clockError: number;
};

export const plainStream: StreamSpec = {
	rate: 100,
	framing: 'text',
	separator: ',',
	labelMark: null,
	labelStyle: 'full',
	brackets: '',
	lineEnd: '\r\n',
	header: false,
	counter: 0,
	clock: 'none',
	metaFirst: true,
	padWidth: 0,
	pad: ' ',
	unit: '',
	crc: 'none',
	order: null,
};

export const plainLink: LinkSpec = {
	baud: 115200,
	delivery: 'direct',
	pollMs: 1,
	packetBytes: 62,
	hostDelayMs: 0.1,
	senderJitter: 0.002,
	clockError: 0,
};
