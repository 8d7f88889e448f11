/** What a column of the stream is. */
export type ChannelRole = 'finger' | 'stick' | 'button' | 'counter' | 'clock' | 'battery' | 'spare';

/** Why a column was taken for what it is. */
export type ReadBy =
	/** Its label, or its name in a header, says so. */
	| 'label'
	/** It has a label that no list knows, and was taken in order. */
	| 'order'
	/** It has two values, under a label that no list knows. */
	| 'values'
	/** It stands where such a column stands. */
	| 'place'
	/** It counts up, or rises steadily. */
	| 'behaviour'
	/** It has decimals while the others are whole numbers, or falls below 0 while they do not. */
	| 'decimals'
	/** It stands behind the buttons of a glove that is whole without it. */
	| 'behind'
	/** More columns than are judged. */
	| 'beyond'
	/** A label that no list knows, beside fingers that have theirs. */
	| 'unknown'
	/** `--layout` or a sheet says so. */
	| 'declared';

/** One value of a frame. */
export type Channel = {
	/** Position in the frame, from 0, in the order the board sends it. */
	readonly index: number;
	/** `thumb index middle ring little`, `stick-x stick-y`, `button-1`…, `counter`, `clock`, `spare-1`… */
	readonly name: string;
	readonly role: ChannelRole;
	/** Set where nothing but its place and its values make it a button: no label and no sheet names it. */
	readonly isGuess?: true;
	/** Which hand it is on where a stream carries two; left out where there is one. */
	readonly hand?: 'left' | 'right' | 'a' | 'b';
	/** Its name among the channels of its hand, where a stream carries two: `index` on both, `index-2` for a second joint. */
	readonly nameOnHand?: string;
	/** Why it was taken for what it is; left out by who has no need to tell. */
	readonly by?: ReadBy;
	/** Its label as written, or its name in a header; left out where it has none. */
	readonly label?: string;
	/** Seconds per unit of a `clock` column (0.001 for milliseconds); undefined for every other role. */
	readonly clockUnitSeconds?: number;
};

export type Framing = 'text' | 'json' | 'slip' | 'cobs';

/** How a stream's bytes are cut into frames, and what each value is. */
export type Layout = {
	readonly framing: Framing;
	/** The separator of unlabelled text (`,` `;` `\t` ` ` `|`); null for JSON, packets and labels without one. */
	readonly separator: string | null;
	/** True where channel names came from the stream itself (labels, JSON keys, a header line). */
	readonly labelled: boolean;
	/** Name of the CRC-16 of a packet framing, or null. */
	readonly checksum: string | null;
	/** Unit written after the numbers (`mV`, `%`, `°`), or null. Numbers are then not ADC counts. */
	readonly unit: string | null;
	readonly channels: readonly Channel[];
};
