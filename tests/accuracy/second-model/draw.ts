import {Random} from '../../../source/simulator/random.ts';
import type {Drawn, Family} from './case.ts';
import {contactFamilies} from './families/contacts.ts';
import {controlFamilies} from './families/controls.ts';
import {firmwareFamilies} from './families/firmware.ts';
import {healthyFamilies} from './families/healthy.ts';
import {linkFamilies} from './families/link.ts';
import {mechanicsFamilies} from './families/mechanics.ts';
import {nearMissFamilies} from './families/near-misses.ts';
import {openPinFamilies} from './families/open-pins.ts';
import {readingFamilies} from './families/readings.ts';
import {setUpFamilies} from './families/set-up.ts';

export const families: readonly Family[] = [
	...healthyFamilies,
	...firmwareFamilies,
	...nearMissFamilies,
	...openPinFamilies,
	...contactFamilies,
	...readingFamilies,
	...mechanicsFamilies,
	...controlFamilies,
	...setUpFamilies,
	...linkFamilies,
];

/** A case of the second corpus, not drawn yet: its place in the corpus is known, its log is made when it is asked for. */
export type SecondCase = {
	readonly family: Family;
	/** Which of its family, from 0. */
	readonly n: number;
	readonly draw: () => Drawn;
};

/** Seed of the corpus where none is given. */
export const secondSeed = 20_260;

/** All cases in a fixed order. Each has a seed of its own, so that any of them can be drawn without the others. */
export function secondCorpus(seed: number): SecondCase[] {
	return families.flatMap(family =>
		Array.from({length: family.cases}, (_, n) => ({
			family,
			n,
			draw: () => family.draw(new Random(seed).fork(`${family.name} ${n}`), n),
		})),
	);
}
