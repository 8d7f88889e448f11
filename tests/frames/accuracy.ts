// `npm run accuracy -- frames`: what frames writes of every recording, checked again (specification F).
import {mkdtempSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {checkedAgain, recordings} from './read-again.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'glovebench-again-'));
let same = 0;
let told = 0;
const others: string[] = [];
try {
	for (const name of recordings) {
		const again = await checkedAgain(name, folder);
		if (again === null) {
			others.push(`${name}: no frame in it`);
			continue;
		}

		told += again.before.length;
		const isSame = again.before.join() === again.after.join() && again.framesBefore === again.framesAfter;
		if (isSame) same++;
		else others.push(`${name}: ${again.before.join(', ') || 'nothing'} became ${again.after.join(', ') || 'nothing'}`);
	}
} finally {
	rmSync(folder, {recursive: true});
}

console.log(
	`Of ${recordings.length} recordings ${same} give the same findings on channels, and of the link slow-frames,`,
);
console.log(
	`uneven-frames, stall, bursty-delivery and lost-frames, from their table as themselves (${told} findings). Others:`,
);
for (const line of others) console.log(`  ${line}`);
