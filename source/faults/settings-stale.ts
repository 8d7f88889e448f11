import type {Fault} from './fault.ts';
import {directionWay} from './settings-stale/direction.ts';
import {insideWay, outsideWay} from './settings-stale/ends.ts';
import {oneFactorWay} from './settings-stale/one-factor.ts';

/** out-of-spec: every reading is good, but what the settings make of it is not. */
export const settingsStale: Fault<'settings-stale'> = {
	code: 'settings-stale',
	status: 'out-of-spec',
	scope: 'finger',
	together: true,
	listedAfter: 'wrong-full-scale',
	sees: 'wrong way, wrong place or wrong scale',
	title: 'settings no longer fit the glove',
	definition: "The sheet's min, max or direction of a finger do not fit what comes.",
	physics:
		'Bend = (reading − min) / (max − min). An end that lies inside never gives 0 or 1, one that lies outside is cut off; a wrong direction gives 1 for the open hand. Supply and full scale move all levels in proportion to themselves.',
	causes: [
		'Another hand, or the glove sits otherwise than when the settings were taken.',
		'The cord has stretched, slipped on its spool or been wound anew.',
		'A pot was exchanged, turned or wired the other way round, and the sheet was not brought up to date.',
		'All fingers by one factor: another supply voltage, reference or full scale of the converter.',
		'The settings were taken from fists that were not closed, or were typed in wrong.',
	],
	measurements: [
		{measure: 'Open and close the whole hand fully, three times', expect: "both ends within 3 % of the sheet's span"},
		{measure: 'Hand open, hand closed: readings beside min and max of the sheet', expect: 'one each, within 3 %'},
		{measure: 'Bend the finger and watch its reading', expect: 'it rises, or falls where the sheet says inverted'},
		{measure: 'All fingers alike: volts over the outer lugs of a pot', expect: 'as when the settings were taken'},
	],
	remedy: [
		'Take the settings anew with glovebench fit, and write the new lines into the sheet and into the firmware.',
		'Or bring the cord back to where it was: open hand at the old reading.',
		'All fingers by one factor: put supply or full scale right first, then look again.',
	],
	ways: [insideWay, outsideWay, directionWay, oneFactorWay],
};
