import {testBenches} from '../gloves/test-benches.ts';

/** So many benches of each kind at each rate, less the one that the quick tests look at; with BENCHES in the environment that many. */
const count = Number(process.env.BENCHES ?? 4);

testBenches(Array.from({length: count - 1}, (_, n) => n + 2));
