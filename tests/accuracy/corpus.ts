import {Random} from '../../source/simulator/random.ts';
import {truthOf} from '../../source/simulator/simulate.ts';
import {healthyCases, randomHealthy} from '../gloves/healthy.ts';
import {layoutNeeded, randomScenario, type Scenario, scenarioCodes} from '../gloves/scenario.ts';

/** Seeds of the corpus; tests use small seeds, so that nothing is measured on what it was tested with. */
export const firstSeed = 710_000;

export type CorpusOptions = {
	readonly perCode: number;
	readonly healthyHours: number;
	readonly codes?: readonly string[];
	readonly seed?: number;
};

/** Draws the labelled corpus: so many cases per code, then healthy ones until the hours are full. One at a time. */
export function* drawCorpus({
	perCode,
	healthyHours,
	codes = scenarioCodes,
	seed = firstSeed,
}: CorpusOptions): Generator<Scenario> {
	for (const code of codes) {
		const i = scenarioCodes.indexOf(code);
		for (let n = 0; n < perCode; n++) yield told(randomScenario(new Random(seed + i * 1000 + n), {code}));
	}
	const names = Object.keys(healthyCases);
	let seconds = 0;
	for (let n = 0; seconds < healthyHours * 3600; n++) {
		const scenario = told(randomHealthy(new Random(seed + 500_000 + n), names[n % names.length]));
		seconds += scenario.spec.durationSeconds;
		yield scenario;
	}
}

/** A header line that went by before the tool listened tells nothing: the user has to say what the columns are. */
function told(scenario: Scenario): Scenario {
	const {spec} = scenario;
	const {declared, glove, stream, start} = spec;
	if (!stream.header || start !== 'mid-line' || declared?.layout) return scenario;
	const changed = {...spec, declared: {...declared, layout: layoutNeeded(glove, {...stream, header: false})}};
	return {...scenario, spec: changed, truth: truthOf(changed)};
}
