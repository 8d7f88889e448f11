import {mkdir} from 'node:fs/promises';
import path from 'node:path';
import {CannotError} from '../cannot-error.ts';
import {standaloneCharts} from './html/standalone-charts.ts';
import {writePage} from './write-page.ts';

/**
 * Writes each chart of a page as an SVG file into a folder, which is made where it is missing; charts that are there are
 * made anew, any other file is left as it is. Resolves to their number. Throws `CannotError` where they cannot be written.
 */
export async function writeCharts(folder: string, page: string): Promise<number> {
	await mkdir(folder, {recursive: true}).catch((error: Error) => {
		throw new CannotError(`Cannot make the folder ${folder} for the charts: ${error.message}. Name another one.`);
	});
	const charts = standaloneCharts(page);
	for (const {name, svg} of charts) await writePage(path.join(folder, `${name}.svg`), svg, 'svg');
	return charts.length;
}
