import {hatchPattern} from './page-shell.ts';
import {pageStyle} from './style.ts';

/** A chart by itself, and the name its file goes by, without an ending. */
type StandaloneChart = {readonly name: string; readonly svg: string};

/** Of the style sheet of a page what concerns charts, in its light colours: a picture has no reader whose taste it knew. */
const chartStyle = pageStyle
	.split('\n')
	.filter((line, index) => line.startsWith('svg ') || index === 0)
	.join('')
	.replace('color-scheme:light dark;', '');

/** Charts of a page: no chart has another in it, and what is drawn by is none. */
const charts =
	/<svg((?: class="square")?) (viewBox="0 0 (\d+) (\d+)") width="(\d+)" role="img" aria-label="([^"]*)">(.*?)<\/svg>/gs;

const longestName = 60;

/**
 * Each chart of a page as a picture of its own, in the order of the page: whole SVG files with their style, on white, that
 * need nothing else. They are numbered, and named for what they show.
 */
export function standaloneCharts(page: string): StandaloneChart[] {
	return [...page.matchAll(charts)].map(([, look, box, width, height, shown, label = '', content], index) => {
		const tall = Math.round((Number(height) * Number(shown)) / Number(width));
		return {
			name: `${String(index + 1).padStart(2, '0')}-${nameOf(label)}`,
			svg: `<svg xmlns="http://www.w3.org/2000/svg"${look} ${box} width="${shown}" height="${tall}" role="img" aria-label="${label}"><style>${chartStyle}</style><defs>${hatchPattern.text}</defs><rect width="${width}" height="${height}" fill="#fff"/>${content}</svg>\n`,
		};
	});
}

/** Small letters, figures and hyphens: what is a name on every system. */
function nameOf(label: string): string {
	const name = label
		.toLowerCase()
		.replaceAll(/&[#\w]+;/g, '')
		.replaceAll(/[^a-z\d]+/g, '-')
		.slice(0, longestName)
		.replaceAll(/^-+|-+$/g, '');
	return name === '' ? 'chart' : name;
}
