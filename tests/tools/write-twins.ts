// Writes recordings/NAME.expected.json beside each sample: what the program finds in it now. Read the difference before it is kept.
// Usage: node tests/tools/run.mjs tests/tools/write-twins.ts [NAME…]
import {writeFileSync} from 'node:fs';
import path from 'node:path';
import {sampleNames, twinOf, twinText} from '../gloves/twin.ts';

const wanted = process.argv.slice(2);
for (const name of wanted.length > 0 ? wanted : sampleNames)
	writeFileSync(path.join('recordings', `${name}.expected.json`), twinText(await twinOf(name)));
