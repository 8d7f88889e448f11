import type {LiveMount, LiveMountView} from '../mount/live-mount.ts';
import type {KeyName} from '../screen/key-name.ts';
import {escapeText} from '../text/escape-text.ts';
import {mountKeyLine, mountMessage} from './mount-keys.ts';

/** What a key asks of the screen. */
type Asked = 'leave' | 'suspend' | 'repaint';

/** The offset that is being found, and what the person at the keys wants of it. Knows neither terminal nor clock. */
export class MountDesk {
	view: LiveMountView;
	bell: boolean;
	/** Whether it was ctrl-c that ended it. */
	isInterrupted = false;
	readonly #live: LiveMount;
	/** Said in the place of the keys until the next one. */
	#notice: string | undefined;

	constructor(live: LiveMount, bell: boolean) {
		this.#live = live;
		this.bell = bell;
		this.view = live.update();
	}

	get keyLine(): string {
		return this.#notice ?? mountKeyLine(this.bell);
	}

	/** Solves anew; gives the view of before. */
	update(): LiveMountView {
		const before = this.view;
		this.view = this.#live.update();
		return before;
	}

	/** Takes a key; gives what it asks of the screen, if anything. */
	press(key: KeyName): Asked | undefined {
		this.#notice = undefined;
		const asked = this.#take(key);
		this.update();
		return asked;
	}

	#take(key: KeyName): Asked | undefined {
		const message = mountMessage(key);
		switch (message?.type) {
			case 'interrupt':
				this.isInterrupted = true;
				return 'leave';
			case 'quit':
				return 'leave';
			case 'suspend':
				return 'suspend';
			case 'redraw':
				return 'repaint';
			case 'guide':
				if (message.what === 'skip') this.#live.skip();
				else this.#live.again();
				return undefined;
			case 'bell':
				this.bell = !this.bell;
				return undefined;
			default:
				this.#notice = ` ${escapeText(key)} does nothing here.${mountKeyLine(this.bell)}`;
				return undefined;
		}
	}
}
