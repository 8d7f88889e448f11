import type {Look} from '../screen/look.ts';
import type {CatalogueEntry} from './finding-rows.ts';
import type {GlovePicture} from './glove-picture.ts';

/** What a page is drawn from, and the room it has: columns, and rows under what stands above it. */
export type PageInput = {
	readonly picture: GlovePicture;
	readonly width: number;
	readonly height: number;
	readonly look: Look;
};

/** A page that tells of findings, in the words of the catalogue. */
export type FindingPageInput = PageInput & {readonly catalogue: (code: string) => CatalogueEntry | undefined};
