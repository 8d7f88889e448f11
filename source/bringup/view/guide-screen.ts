import type {CommandIo} from '../../command-line/command-io.ts';
import type {Session} from '../../session/session.ts';
import type {BringUp} from '../bring-up.ts';
import type {BringUpMessage} from './keys.ts';
import {openBringUpView} from './open-view.tsx';
import {screenState} from './screen-state.ts';

/** A calm rate. */
const leastRedrawMs = 100;

/** While it is drawn, frames wait, and would seem to come in clumps: drawing takes at most this share of the time (practice). */
const redrawShare = 1 / 15;

/** The screen of a routine that runs, drawn at a calm rate, and the keys pressed on it. */
export type GuideScreen = {
	/** The oldest key press that was not taken yet. */
	take(): BringUpMessage | undefined;
	/** What the next drawing shows. */
	show(session: Session, bringUp: BringUp | undefined): void;
	/** True after Ctrl-C. */
	wasInterrupted(): boolean;
	/** Gives the terminal back; what was drawn last stays on it. May be called twice. */
	close(): void;
	/** The same, and takes away what was drawn. */
	dismiss(): void;
};

/** Opens the screen. `onLeave` is called for keys that end the routine, also before the first frame has come. */
export function openGuideScreen(io: CommandIo, color: boolean, source: string, onLeave: () => void): GuideScreen {
	const pressed: BringUpMessage[] = [];
	let isInterrupted = false;
	let isOpen = true;
	let state = screenState(source, undefined, undefined);
	const view = openBringUpView(io, color, message => {
		if (message === 'interrupt') isInterrupted = true;
		pressed.push(message);
		if (message === 'quit' || message === 'interrupt') onLeave();
	});
	let timer: NodeJS.Timeout;
	let drawnAt = Number.NEGATIVE_INFINITY;
	const redraw = (): void => {
		clearTimeout(timer);
		const from = performance.now();
		view.draw(state);
		drawnAt = performance.now();
		timer = setTimeout(redraw, Math.max(leastRedrawMs, (drawnAt - from) / redrawShare));
	};
	redraw();
	const close = (last: typeof state | undefined): void => {
		if (!isOpen) return;
		isOpen = false;
		clearTimeout(timer);
		try {
			view.draw(last);
		} finally {
			view.close();
		}
	};

	return {
		take: () => pressed.shift(),
		show: (session, bringUp) => {
			const before = state;
			state = screenState(source, session, bringUp);
			// Bars may wait, not what somebody is waiting for.
			const isNews = (['prompt', 'count', 'hint'] as const).some(key => before[key] !== state[key]);
			if (!isNews || !isOpen) return;
			clearTimeout(timer);
			timer = setTimeout(redraw, Math.max(0, drawnAt + leastRedrawMs - performance.now()));
		},
		wasInterrupted: () => isInterrupted,
		close: () => close(state),
		dismiss: () => close(undefined),
	};
}
