import {fileURLToPath} from 'node:url';
import {expect, it} from 'vitest';
import {makePlan} from '../../source/plan/make-plan.ts';
import {loadSheet} from '../../source/sheet/load-sheet.ts';

async function findings(file: string): Promise<string[]> {
	const sheet = await loadSheet(fileURLToPath(new URL(`../../docs/examples/${file}`, import.meta.url)));
	return makePlan(sheet).findings.map(({status, code, channel}) => `${status} ${code} ${channel}`);
}

it('nothing speaks against the left glove', async () => {
	expect(await findings('fox-left.toml')).toEqual([]);
});

it('the three mistakes of the right glove are found, and nothing else', async () => {
	expect(await findings('fox-right-mistaken.toml')).toEqual([
		'failure radio-converter ring',
		'failure no-pull-up button-1',
		'out-of-spec track-too-short index',
		'out-of-spec track-too-short middle',
		'out-of-spec track-too-short ring',
		'out-of-spec track-too-short little',
	]);
});
