// Makes anew, once a finding and its twin in the simulator are written, all that follows from them: npm run finding -- the-code
// Reads the sample's settings in recordings/samples.json. Look at the difference before you keep it: nothing here says that it is right.
import {spawnSync} from 'node:child_process';
import process from 'node:process';

const [code] = process.argv.slice(2);
if (code === undefined) {
	process.stderr.write('Name the code of a finding: npm run finding -- rough-track\n');
	process.exit(2);
}

const vitest = ['npx', 'vitest', 'run', '--config', 'tests/vitest.config.ts', '--reporter=dot'];
const steps = [
	['the lists, the build, docs/', ['npm', 'run', '--silent', 'docs']],
	[`recordings/${code}.gbrec`, ['node', 'recordings/make.mjs', code]],
	[`recordings/${code}.expected.json`, ['node', 'tests/tools/run.mjs', 'tests/tools/write-twins.ts', code]],
	['tests/session/figures/', [...vitest, 'tests/session/figures.test.ts'], {FIGURES: 'write'}],
	['the reply to its sample', [...vitest, 'tests/report/reply/reply-text.test.ts', '-t', code], {GOLDEN: 'write'}],
	['screens that count checks', [...vitest, 'tests/screen/golden-screens.test.ts'], {GOLDEN: 'write'}],
];
for (const [what, [program, ...args], env] of steps) {
	process.stderr.write(`${what} …\n`);
	const {status, stdout, stderr} = spawnSync(program, args, {encoding: 'utf8', env: {...process.env, ...env}});
	if (status === 0) continue;
	process.stderr.write(`${stdout}${stderr}Could not make ${what}: ${[program, ...args].join(' ')}\n`);
	process.exit(1);
}
spawnSync('git', ['status', '--short'], {stdio: 'inherit'});
