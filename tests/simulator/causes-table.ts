import {faultModels} from '../../source/simulator/faults/catalogue.ts';

const head = '| code | causes |\n|---|---|\n';

/** docs/simulator.md with its table of faults and their causes as the models have them; throws where there is no such table. */
export function withCauses(page: string): string {
	const rows = [...faultModels.values()]
		.sort((a, b) => (a.code < b.code ? -1 : 1))
		.map(({code, variants}) => `| \`${code}\` | ${variants.join(', ')} |\n`);
	const [before, after, ...more] = page.split(head);
	if (after === undefined || more.length > 0) throw new Error(`The page must hold one table that begins with ${head}`);
	return `${before}${head}${rows.join('')}${after.replace(/^(?:\|.*\n)*/, '')}`;
}
