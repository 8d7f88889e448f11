import type {DeclaredFingers} from '../features/declared-travel.ts';
import type {Timing} from '../stream/source-item.ts';
import type {StageMeter} from './stage-meter.ts';

/** What the user or a sheet declares about the glove; everything left out is found out from the stream. */
export type SessionOptions = {
	readonly timing: Timing;
	readonly baud?: number | null;
	/** Declared full scale in counts (1023, 4095 …). */
	readonly fullScale?: number | null;
	/** `--layout`, see `FramerOptions`. */
	readonly layout?: string | undefined;
	/** Frames per second the firmware is meant to send. Default 30. */
	readonly targetRate?: number;
	/** Other columns for good are another session: this one then takes nothing more in, and `newColumnsAt` tells where it ended. */
	readonly endsAtNewColumns?: boolean;
	/** Ends and direction of the fingers' travel as a sheet gives them, by channel name. */
	readonly fingers?: DeclaredFingers;
	/** False where nobody asks for `trend`: then it tells of the latest frames alone, and the rest costs nothing. Default true. */
	readonly keepsTrend?: boolean;
	/** Asks every gate of every check each time, also of what cannot speak: for the test that nothing is lost by that. */
	readonly asksAll?: boolean;
	/** Told which stage of the work begins, to find out where the time goes. */
	readonly meter?: StageMeter;
};
