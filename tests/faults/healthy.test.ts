import {expectHealthy} from '../gloves/expect-healthy.ts';

expectHealthy(1, place => place % 5 === 0);
