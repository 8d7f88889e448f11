import type {Pin} from '../board.ts';

/** What differs from a plain pin with digital input and pull-up. */
export type PinTraits = Partial<Omit<Pin, 'name' | 'aliases'>>;

/** Numbered pins `GPIO0`…, with the other spellings in use. */
export function gpioPins(numbers: readonly number[], traits: Readonly<Record<number, PinTraits>>): Pin[] {
	return numbers.map(number => ({
		name: `GPIO${number}`,
		aliases: [`${number}`, `IO${number}`, `D${number}`, `G${number}`, `GP${number}`],
		digital: true,
		pullUp: true,
		...traits[number],
	}));
}

/** Whole numbers from `first` to `last`. */
export function range(first: number, last: number): number[] {
	return Array.from({length: last - first + 1}, (_, index) => first + index);
}
