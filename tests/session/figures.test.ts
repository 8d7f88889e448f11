import {readFileSync, writeFileSync} from 'node:fs';
import {expect, test} from 'vitest';
import {figuredSamples, figuresOf, figuresPath} from './figures.ts';

// What no finding tells: how near the checks came that stayed quiet, and what the channels were measured to be. With FIGURES=write in
// the environment the files are written anew; read the difference before it is kept.

test.each(figuredSamples)('%s is measured as its figures say, and each quiet check says why', async name => {
	const figures = await figuresOf(name);
	if (process.env.FIGURES === 'write') writeFileSync(figuresPath(name), figures);
	expect(figures).toBe(readFileSync(figuresPath(name), 'utf8'));
});
