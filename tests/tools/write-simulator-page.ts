// Writes the table of faults and their causes in docs/simulator.md: `npm run docs`.
import {readFileSync, writeFileSync} from 'node:fs';
import {withCauses} from '../simulator/causes-table.ts';

const page = 'docs/simulator.md';
writeFileSync(page, withCauses(readFileSync(page, 'utf8')));
