import type {Output} from '../command-line/command-io.ts';
import {leftToProveText} from '../session/left-to-prove.ts';
import type {Session} from '../session/session.ts';
import type {SourceInfo} from '../stream/source.ts';
import {escapeText} from '../text/escape-text.ts';
import {shorten} from '../text/fit-text.ts';
import {countText} from '../text/number-text.ts';

/**
 * A line on stderr while a port is read: how long still, what has come, and what to move. Nothing where stderr is no
 * terminal. `show` is called as often as one likes and draws once a second of stream time; `clear` takes the line away.
 */
export class Countdown {
	private readonly output: Output;
	private readonly forSeconds: number;
	private shownSecond = -1;

	constructor(output: Output, {name}: SourceInfo, forSeconds: number) {
		this.output = output;
		this.forSeconds = forSeconds;
		if (!output.isTTY) return;
		output.write(
			`Reading ${escapeText(name, 40)} for ${forSeconds} s: rest the hand, make four fists, then move each finger, the stick and the buttons. Ctrl-C ends it.\n`,
		);
		this.draw(`${Math.ceil(forSeconds)} s left, waiting for the first byte`);
	}

	show(session: Pick<Session, 't' | 'snapshot'>): void {
		const second = Math.floor(session.t);
		if (!this.output.isTTY || second === this.shownSecond) return;
		this.shownSecond = second;
		const {link, channels} = session.snapshot();
		const left = `${Math.max(0, Math.ceil(this.forSeconds - session.t))} s left`;
		const come =
			link.frames > 0
				? countText(link.frames, 'frame')
				: link.bytes > 0
					? `${countText(link.bytes, 'byte')}, no frame yet`
					: 'waiting for the first byte';
		const move = link.frames > 0 ? leftToProveText(channels) : '';
		this.draw([left, come, ...(link.frames > 0 ? [move === '' ? 'all proven' : `to prove: ${move}`] : [])].join(', '));
	}

	clear(): void {
		if (this.output.isTTY) this.output.write('\r\u001b[K');
	}

	private draw(text: string): void {
		// Erase to the end of the line (ECMA-48 EL); a longer line would wrap and stay.
		this.output.write(`\r${shorten(escapeText(text), (this.output.columns ?? 80) - 1, '…')}\u001b[K`);
	}
}
