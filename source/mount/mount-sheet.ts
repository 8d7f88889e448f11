import {readFile} from 'node:fs/promises';
import {CannotError} from '../cannot-error.ts';
import {loadSheet} from '../sheet/load-sheet.ts';
import type {Sheet} from '../sheet/sheet.ts';
import {mountFactsOf} from './mount-facts.ts';
import type {Order} from './pose-columns.ts';
import type {Direction} from './pose-form.ts';
import {type Quaternion, upright, type Vector} from './rotation.ts';
import type {Typed} from './verify.ts';

/** A vector in mm as `--origin 0,12,-80` gives it. Throws `CannotError`. */
export function parseVector(text: string, option: string): Vector {
	const parts = text
		.split(/[,;\s]+/)
		.filter(part => part !== '')
		.map(Number);
	if (parts.length === 3 && parts.every(Number.isFinite)) return [parts[0], parts[1], parts[2]];
	throw new CannotError(
		`${option} must not be ${JSON.stringify(text)}: it takes three numbers in mm, x,y,z in the hand's axes, such as 0,-12,95.`,
	);
}

/**
 * The offset that was to be typed in: the JSON of an earlier `mount --json`, or a sheet with `[mount]`. Throws
 * `CannotError` for what cannot be read, and where rotation or position is not known in it.
 */
export async function loadTyped(path: string): Promise<Typed> {
	if (/\.toml$/i.test(path)) return fromSheet(path, await loadSheet(path));
	let text: string;
	try {
		text = await readFile(path, 'utf8');
	} catch (error) {
		throw new CannotError(
			`--verify ${path} cannot be read: ${(error as NodeJS.ErrnoException).code === 'ENOENT' ? 'no file has that name' : (error as Error).message}. Name what glovebench mount --json printed before, or a sheet (.toml).`,
		);
	}
	const json = mountFactsOf(text);
	if (json === undefined)
		throw new CannotError(`--verify ${path} is neither what glovebench mount --json prints nor a sheet (.toml).`);
	const {positionMm, quaternion} = json.trackerToHand;
	if (!positionMm || !quaternion)
		throw new CannotError(`--verify ${path} holds no whole offset: its rotation or position was not known yet.`);
	const {quaternionOrder: order, direction} = json.read as {quaternionOrder: Order; direction: Direction};
	return {
		name: path,
		order,
		direction,
		place: positionMm,
		turn: upright([quaternion.w, quaternion.x, quaternion.y, quaternion.z]),
	};
}

function fromSheet(path: string, {mount}: Sheet): Typed {
	const place = mount?.trackerToHandMm;
	const turn = mount?.trackerToHandWxyz;
	if (!place || !turn)
		throw new CannotError(
			`--verify ${path} has no offset under [mount]: paste what glovebench mount printed into it first.`,
		);
	return {name: path, place: place as unknown as Vector, turn: upright(turn as unknown as Quaternion)};
}
