import {testBenches} from '../gloves/test-benches.ts';

testBenches([1]);
