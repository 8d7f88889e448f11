// The usual cautions, one wording each, said beside every advice that needs them.
// They are common practice except where a source is named; data sheets and local rules go first.

/** Touching wires: power off, glove off, hot iron. */
export const rewiringCaution =
	'Unplug USB and battery and take the glove off before touching its wiring; never solder on a worn or powered glove. An iron tip has 300–380 °C: ventilate, protect your eyes, wash your hands after leaded solder.';

/** Hot glue on spools and cords. */
export const glueCaution = 'Hot glue has 120–195 °C and burns at once: never glue on the hand.';

/** Wiper exchanged with an outer leg. Numbers: Ohm's law at 100 Ω left of the track. */
export const shortedPotCaution =
	'A pot whose wiper is exchanged with supply or ground shorts the supply at one end of its travel (5 V over the last 100 Ω: 50 mA, 0.25 W on a track made for 0.05–0.2 W). If a pot or a wire is warm, unplug at once.';

/** 5 V on a 3.3 V board. Source: ESP32 data sheet, absolute maximum ratings (from memory). */
export const overvoltageCaution =
	'On a 3.3 V board nothing may be fed from 5 V: an ESP32 pin stands 3.6 V at most. Feed pots, sticks and pull-ups from its 3V3 pin, and measure before you connect.';

/** External reference against the internal one. Source: ATmega328P data sheet, ADC reference selection (from memory). */
export const referenceCaution =
	'Wire a voltage to AREF only after the firmware has chosen the external reference; otherwise it is shorted to the internal one.';

/** Springs and cords. */
export const cordCaution =
	'Hold the spool before you loosen it: the spring lets the cord whip. No loop that can tighten round a finger; keep hair and children clear; stop at once at numbness or tingling.';

/** Motors. Currents: guides for 9 g servos; USB 2.0, 7.2.1. */
export const servoCaution =
	"Small servos take 0.6–1.2 A each when stalled: give them their own supply, never a USB port or the board's regulator. Unplug motors before you test, and keep fingers and cords clear of their arms.";

/** Lithium cells. Source: public battery-safety pages. */
export const lithiumCaution =
	'Lithium cells: never short, pierce or crush one; put away a swollen, hot or dented cell; charge attended, with the right charger and a protection circuit, away from anything that burns.';

/** Mains-powered supplies. */
export const mainsCaution =
	'Do not open mains supplies or chargers and never cut off an earth pin; a charger that tingles or has no approval mark belongs in the bin.';

/** Probing a powered board: where the step is to measure volts. */
export const probingCaution =
	'Measure volts with one hand and a probe covered down to its point: bridging two pins shorts the supply.';
