import {itemAt} from '../item-at.ts';
import type {Desk} from './desk.ts';
import {news, nothingSaid, type Said, spokenPage} from './spoken.ts';
import type {Message, ViewState} from './view-state.ts';

/** Any size will do where nothing is laid out. */
const size = {columns: 80, rows: 24};

/** A notice is not said again while it stands among so many lines. */
const noticeLines = 5;

const greeting =
	'glovebench, one line for each thing that happens. o overview, a bench, f findings, l link, ? keys, q quits.';

/** All that was said of the gloves at a desk, a line for each thing, the latest last. */
export class Transcript {
	readonly lines: string[] = [greeting];
	readonly #desk: Desk;
	#said: readonly Said[];

	constructor(desk: Desk) {
		this.#desk = desk;
		this.#said = desk.stations.map(() => nothingSaid);
	}

	/** Says what has happened since; true where that was anything. */
	tellNews(): boolean {
		const {lines} = this;
		const count = lines.length;
		const pictures = this.#desk.pictures(size);
		const {page, focus} = this.#desk.view;
		this.#said = pictures.map((picture, index) => {
			const told = news(picture, itemAt(this.#said, index), page);
			const who = pictures.length > 1 ? `glove ${index + 1}: ` : '';
			lines.push(...told.lines.map(line => who + line));
			return told.said;
		});
		const {notice} = itemAt(pictures, focus);
		if (notice !== null && !lines.slice(-noticeLines).includes(notice)) lines.push(notice);
		return lines.length !== count;
	}

	/** Says what a key came to: what is being typed, a notice, or the page that it leads to. */
	answer(message: Message | undefined, before: ViewState): void {
		const {view} = this.#desk;
		const picture = itemAt(this.#desk.pictures(size), view.focus);
		if (view.entry !== null) this.lines.push(`${view.entry.what}: ${view.entry.text}`);
		else if (view.held !== before.held) this.lines.push(view.held ? 'Held.' : 'Goes on.');
		else if (picture.notice !== null && message?.type !== 'page' && view.page === before.page)
			this.lines.push(picture.notice);
		else this.lines.push(...spokenPage(picture, view));
	}
}
