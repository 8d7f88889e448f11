/** How a reel turns finger movement into an angle. What a channel leaves out, the sheet's `[reel]` says for all. */
export type Reel = {
	readonly spoolDiameterMm?: number;
	/** Angle over which the track of the pot changes its resistance. */
	readonly electricalAngleDeg?: number;
	/** Cord pulled from open hand to fist. */
	readonly cordTravelMm?: number;
	/** Distance of the cord from each joint's axis, knuckle first; the travel follows from it where it is not given. */
	readonly jointRadiiMm?: readonly number[];
	readonly potOhms?: number;
};

/** One value of the frame, as designed. */
export type SheetChannel = Reel & {
	/** `thumb index middle ring little`, `stick-x stick-y`, `button-1`…, `counter`, `clock`, `spare-1`…, `-`. */
	readonly name: string;
	/** As the board names it; `GPIO32/3` is input 3 of a multiplexer on GPIO32. */
	readonly pin?: string;
	/** The reading falls where the finger bends, or the stick goes right or down. */
	readonly inverted?: boolean;
	/** Counts at the ends of the travel on the wearer's hand. */
	readonly min?: number;
	readonly max?: number;
	/** Volts that feed this part, where it is not what feeds the others. */
	readonly supplyVolts?: number;
	/** Line of the sheet it starts on, for messages. */
	readonly line?: number;
};

export const linkKinds = ['usb', 'serial', 'bluetooth', 'wifi'] as const;
export const framings = ['text', 'json', 'slip', 'cobs'] as const;
export const powerSources = ['usb', 'battery', 'power-bank'] as const;
export const servoSupplies = ['separate', 'usb', 'board'] as const;

/** Limits a reel has to keep in the bring-up, percent of full scale except for counts of events. */
export type Limits = {
	readonly minTravelPercent: number;
	readonly maxReturnErrorPercent: number;
	readonly maxRoughnessPercent: number;
	readonly maxDropouts: number;
	readonly maxNoisePercent: number;
};

/** The sheet: how a glove is built, as designed or as built. Channels stand in the order of the frame. */
export type Sheet = {
	readonly name?: string;
	readonly note?: string;
	readonly board?: {
		/** A family of `boards`, or `other`. */
		readonly family?: string;
		/** Highest count of the converter. */
		readonly fullScale?: number;
		/** Volts that feed pots, stick and pull-ups. */
		readonly supplyVolts?: number;
	};
	readonly channels: readonly SheetChannel[];
	readonly reel?: Reel;
	readonly link?: {
		readonly kind?: (typeof linkKinds)[number];
		readonly baud?: number;
		/** Frames per second. */
		readonly targetRate?: number;
		readonly framing?: (typeof framings)[number];
		/** Bytes of a frame with its end, where they are known. */
		readonly frameBytes?: number;
	};
	readonly power?: {
		readonly source?: (typeof powerSources)[number];
		readonly batteryMah?: number;
		readonly batteryVolts?: number;
		/** Measured current of board and sensors. */
		readonly currentMa?: number;
	};
	readonly servos?: {
		readonly count?: number;
		readonly stallMa?: number;
		readonly workingMa?: number;
		readonly supply?: (typeof servoSupplies)[number];
	};
	readonly limits?: Partial<Limits>;
	/** How a tracker sits on the hand, as `mount` found it. */
	readonly mount?: {
		readonly hand?: 'left' | 'right';
		/** From the pivot point to the hand's origin, mm in the hand's axes. */
		readonly originFromPivotMm?: readonly number[];
		/** The hand's origin in the tracker's axes, mm. */
		readonly trackerToHandMm?: readonly number[];
		readonly uncertainMm?: readonly number[];
		/** The rotation that takes the hand's axes to the tracker's: w, x, y, z. */
		readonly trackerToHandWxyz?: readonly number[];
		readonly uncertainDeg?: number;
	};
};

/**
 * Limits where the sheet gives none. Travel: half of the range is a healthy build (common practice). Return error and
 * noise: the levels below which a healthy glove must not be blamed (3 % for the open-hand level, 0.6 % rms at rest).
 * Roughness: contact variation of a conductive-plastic track is 1 % (potentiometer data sheet), doubled for cord and
 * guide. A sound joint drops out never.
 */
export const defaultLimits: Limits = {
	minTravelPercent: 50,
	maxReturnErrorPercent: 3,
	maxRoughnessPercent: 2,
	maxDropouts: 0,
	maxNoisePercent: 0.6,
};

const fingerNames = ['thumb', 'index', 'middle', 'ring', 'little'] as const;
const stickNames = ['stick-x', 'stick-y'] as const;

type ChannelKind = 'finger' | 'stick' | 'button' | 'counter' | 'clock' | 'spare';

/** What a channel of that name is, or undefined where the name says nothing. */
export function channelKind(name: string): ChannelKind | undefined {
	if ((fingerNames as readonly string[]).includes(name)) return 'finger';
	if ((stickNames as readonly string[]).includes(name)) return 'stick';
	if (/^button-[1-9]\d?$/.test(name)) return 'button';
	if (name === 'counter' || name === 'clock') return name;
	if (name === '-' || /^spare-[1-9]\d?$/.test(name)) return 'spare';
	return undefined;
}

/** Names offered where one is misspelt. */
export const channelNames: readonly string[] = [
	...fingerNames,
	...stickNames,
	...['button-1', 'button-2', 'button-3', 'button-4', 'counter', 'clock', 'spare-1'],
];

/** Whether a channel is measured by a converter. */
export function isAnalog(channel: SheetChannel): boolean {
	const kind = channelKind(channel.name);
	return kind === 'finger' || kind === 'stick';
}
