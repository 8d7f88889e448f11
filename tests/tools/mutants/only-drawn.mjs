import {readFileSync} from 'node:fs';
import {declareValuePlugin, PluginKind} from '@stryker-mutator/api/plugin';
import {drawn} from './drawn.mjs';

/** Beginning and end of each place that is drawn in a file, as numbers that order as places do. */
let placesHere = [];
const number = (line, column) => line * 10_000 + column;

/** Texts of the files with places in them: a tree of syntax tells positions, but not of which file. */
const texts = new Map();

function fileOf(program) {
	if (texts.size === 0)
		for (const place of drawn) {
			const [fileName] = place.split(':');
			texts.set(fileName, readFileSync(fileName, 'utf8'));
		}
	const imports = program.body.filter(({type}) => type === 'ImportDeclaration').map(({source}) => source);
	const [found] = [...texts].find(
		([, text]) =>
			text.length === program.end &&
			imports.every(({start, end, value}) => text.slice(start + 1, end - 1) === value) &&
			program.body.every(({start}) => start === 0 || /\s/.test(text[start - 1])),
	) ?? ['no file that has a place'];
	return found;
}

/**
 * A range to mutate takes in all that is written inside of it: of a block, every statement. What neither is a drawn place
 * nor holds one is left alone.
 */
const onlyDrawn = {
	shouldIgnore({node}) {
		if (node.type === 'Program') placesHere = placesIn(fileOf(node));
		if (!node.loc) return undefined;
		const {start, end} = node.loc;
		const [from, to] = [number(start.line, start.column), number(end.line, end.column)];
		return placesHere.some(([first, last]) => from <= first && last <= to) ? undefined : 'not drawn';
	},
};

function placesIn(fileName) {
	return [...drawn]
		.filter(place => place.startsWith(`${fileName}:`))
		.map(place => {
			const [line, column, endLine, endColumn] = place
				.slice(fileName.length + 1)
				.split(/[:-]/)
				.map(Number);
			return [number(line, column - 1), number(endLine, endColumn - 1)];
		});
}

export const strykerPlugins = [declareValuePlugin(PluginKind.Ignore, 'only-drawn', onlyDrawn)];
