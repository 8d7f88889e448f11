// Written by source/write-lists.mjs from the files beside it.
import {backlash} from './backlash.ts';
import {baselineDrift} from './baseline-drift.ts';
import {brokenFrames} from './broken-frames.ts';
import {burstyDelivery} from './bursty-delivery.ts';
import {buttonBounce} from './button-bounce.ts';
import {buttonFloating} from './button-floating.ts';
import {buttonHeld} from './button-held.ts';
import {clippedRange} from './clipped-range.ts';
import {coarseSteps} from './coarse-steps.ts';
import {crosstalk} from './crosstalk.ts';
import {deviceRestart} from './device-restart.ts';
import {dropout} from './dropout.ts';
import {duplicateChannel} from './duplicate-channel.ts';
import {excessNoise} from './excess-noise.ts';
import type {Fault} from './fault.ts';
import {floatingInput} from './floating-input.ts';
import {lineSaturated} from './line-saturated.ts';
import {lostFrames} from './lost-frames.ts';
import {mainsHum} from './mains-hum.ts';
import {narrowSpan} from './narrow-span.ts';
import {portLost} from './port-lost.ts';
import {reversedSensor} from './reversed-sensor.ts';
import {roughTrack} from './rough-track.ts';
import {settingsStale} from './settings-stale.ts';
import {sharedCeiling} from './shared-ceiling.ts';
import {silent} from './silent.ts';
import {slowFrames} from './slow-frames.ts';
import {stall} from './stall.ts';
import {stickNoReturn} from './stick-no-return.ts';
import {stickOffCentre} from './stick-off-centre.ts';
import {stickReversed} from './stick-reversed.ts';
import {stickShortThrow} from './stick-short-throw.ts';
import {stickSwapped} from './stick-swapped.ts';
import {strayText} from './stray-text.ts';
import {stuckHigh} from './stuck-high.ts';
import {stuckLow} from './stuck-low.ts';
import {stuckMid} from './stuck-mid.ts';
import {supplyRipple} from './supply-ripple.ts';
import {swappedChannels} from './swapped-channels.ts';
import {unevenFrames} from './uneven-frames.ts';
import {wrongBaud} from './wrong-baud.ts';
import {wrongFullScale} from './wrong-full-scale.ts';

/** Every finding there is, in the order of the documentation. */
export const everyFault = [
	floatingInput,
	stuckLow,
	stuckHigh,
	stuckMid,
	dropout,
	roughTrack,
	excessNoise,
	mainsHum,
	clippedRange,
	narrowSpan,
	baselineDrift,
	backlash,
	coarseSteps,
	reversedSensor,
	duplicateChannel,
	crosstalk,
	supplyRipple,
	sharedCeiling,
	wrongFullScale,
	settingsStale,
	stickOffCentre,
	stickNoReturn,
	stickShortThrow,
	buttonBounce,
	buttonFloating,
	buttonHeld,
	wrongBaud,
	brokenFrames,
	slowFrames,
	unevenFrames,
	stall,
	burstyDelivery,
	lostFrames,
	lineSaturated,
	deviceRestart,
	strayText,
	silent,
	portLost,
	swappedChannels,
	stickReversed,
	stickSwapped,
] as const satisfies readonly Fault[];
