// Written by source/write-lists.mjs from the files beside it.
import type {FaultModel} from '../fault-model.ts';
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
import {stickShortThrow} from './stick-short-throw.ts';
import {strayText} from './stray-text.ts';
import {stuckHigh, stuckLow, stuckMid} from './stuck-level.ts';
import {supplyRipple} from './supply-ripple.ts';
import {unevenFrames} from './uneven-frames.ts';
import {stickReversed, stickSwapped, swappedChannels} from './wiring.ts';
import {wrongBaud} from './wrong-baud.ts';
import {wrongFullScale} from './wrong-full-scale.ts';

/** Every fault that can be brought about. */
export const everyModel: readonly FaultModel[] = [
	backlash,
	baselineDrift,
	brokenFrames,
	burstyDelivery,
	buttonBounce,
	buttonFloating,
	buttonHeld,
	clippedRange,
	coarseSteps,
	crosstalk,
	deviceRestart,
	dropout,
	duplicateChannel,
	excessNoise,
	floatingInput,
	lineSaturated,
	lostFrames,
	mainsHum,
	narrowSpan,
	portLost,
	reversedSensor,
	roughTrack,
	settingsStale,
	sharedCeiling,
	silent,
	slowFrames,
	stall,
	stickNoReturn,
	stickOffCentre,
	stickShortThrow,
	strayText,
	stuckLow,
	stuckHigh,
	stuckMid,
	supplyRipple,
	unevenFrames,
	swappedChannels,
	stickReversed,
	stickSwapped,
	wrongBaud,
	wrongFullScale,
];
