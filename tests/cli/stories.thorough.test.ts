import {spawnSync} from 'node:child_process';
import {readFileSync} from 'node:fs';
import path from 'node:path';
import {describe, expect, it} from 'vitest';
import {blocksOf} from './documented-commands.ts';
import {inBackground, page, runnable, stage, testStories} from './stories.ts';

describe('the stories', () => {
	testStories(['From afar', 'Over SSH']);

	it('have a service whose command records, a file at a time, and ends in order', async () => {
		const [unit] = blocksOf(page, 'ini');
		const line = /^ExecStart=\/bin\/sh -c '(.*)'$/m.exec(unit)?.[1].replaceAll('%%', '%') ?? '';
		const status = await inBackground(runnable(line.replace(/^exec /, '')), stage().cwd, () => hourFiles().length > 1);
		expect(unit).toContain(`SuccessExitStatus=${status}\n`);
		expect(hourFiles().length).toBeGreaterThan(1);
	});

	it('have a line of cron that judges the hour before the one being written', () => {
		const [line] = blocksOf(page, 'crontab');
		const [, , , , , ...words] = line.trim().split(/\s+/);
		const command = words.join(' ').replace('/var/lib/glove', stage().cwd);
		const {status, stdout} = spawnSync('bash', ['-c', command], {...stage(), encoding: 'utf8'});
		expect(status).toBe(0);
		expect(stdout).toBe('');
		expect(readFileSync(path.join(stage().cwd, 'last-hour.txt'), 'utf8')).toMatch(/^UNPROVEN: /);
	});
});

const hourFiles = () =>
	spawnSync('bash', ['-c', 'ls rig-*.gbrec.gz 2>/dev/null'], {cwd: stage().cwd, encoding: 'utf8'})
		.stdout.split('\n')
		.filter(Boolean);
