import {writeFileSync} from 'node:fs';
import path from 'node:path';
import {floatingRing, playGlove, recordingText} from '../dashboard/play-glove.ts';
import {FolderOnScreen} from './folder-on-screen.ts';

/** `left.gbrec`, whose ring finger comes off at 12 s, with a mark at 20 s; `right.gbrec`, 25 s of a healthy hand. */
export class ReplayOnScreen extends FolderOnScreen {
	constructor() {
		super();
		const mark = {t: 20.001, mark: 'ring reel re-soldered 糸'};
		const items = [...playGlove(floatingRing), mark].toSorted((a, b) => a.t - b.t);
		writeFileSync(path.join(this.folder, 'left.gbrec'), recordingText(items));
		writeFileSync(path.join(this.folder, 'right.gbrec'), recordingText(playGlove({seconds: 25})));
	}
}

/** Everything read ahead: no part of the ruler is dotted any more, so nothing will change by itself. */
export const settled = /held 1x .* \d:\d\d\.\d [^·.]+ \d:\d\d\.\d/;

/** The same in ASCII, where that part of the ruler is dotted with full stops. */
export const settledAscii = /held 1x .* \d:\d\d\.\d [^.]+ \d:\d\d\.\d/;

/** All read ahead, and held at a time. */
export const heldAt = (time: string) =>
	new RegExp(`held \\S+x(?: loop)? +${time.replace('.', '\\.')} [^·.]+ \\d:\\d\\d`);
