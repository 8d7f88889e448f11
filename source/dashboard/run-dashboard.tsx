import type {Readable} from 'node:stream';
import {type CommandIo, interruptedStatus} from '../command-line/command-io.ts';
import {findFault} from '../faults/registry.ts';
import type {Look} from '../screen/look.ts';
import {openScreen} from '../screen/screen-host.tsx';
import type {Desk} from './desk.ts';
import {keepReading} from './keep-reading.ts';
import {screenPart} from './screen-part.ts';

export type RunOptions = {
	readonly look: Look;
	/** Redraws a second. */
	readonly fps: number;
	/** Where keys come from; null where there are none. */
	readonly keys: (Readable & {readonly isTTY?: boolean}) | null;
};

/**
 * Draws a desk on the terminal until the user leaves. The only place of the dashboard that has a clock, a terminal and
 * signals. Resolves to the exit status once the terminal is as it was before.
 */
export async function runDashboard(
	desk: Desk,
	options: RunOptions,
	io: Pick<CommandIo, 'stdout' | 'signal'>,
): Promise<number> {
	const {stdout, signal} = io;
	const {look, keys} = options;
	let end: (status: number) => void;
	let fail: (error: unknown) => void;
	const ended = new Promise<number>((resolve, reject) => {
		end = resolve;
		fail = reject;
	});
	const now = () => performance.now();

	const draw = () => {
		const {size} = screen;
		const gloves = desk.pictures(size);
		screen.ring(desk.takeBells());
		screen.draw(screenPart({gloves, view: desk.view, ...size, look, catalogue: findFault}));
	};

	const onKey = (name: string) => {
		for (const effect of desk.press(name)) {
			if (effect.do === 'leave') end(effect.interrupted ? interruptedStatus : 0);
			else if (effect.do === 'suspend') screen.suspend();
			else if (effect.do === 'redraw') screen.repaint();
		}

		draw();
	};

	const onAbort = () => end(interruptedStatus);

	const screen = openScreen(stdout, {
		look,
		keys,
		onKey,
		onStale() {
			desk.refresh();
			draw();
		},
		onFailure: error => fail(error),
		isOver: () => signal.aborted,
	});
	signal.addEventListener('abort', onAbort);
	if (signal.aborted) onAbort();

	const tick = async () => {
		try {
			await desk.gather();
			desk.tick(now());
			draw();
			const failure = desk.stations.find(station => station.live?.failure !== undefined)?.live?.failure;
			if (failure !== undefined) fail(failure);
		} catch (error) {
			fail(error);
		}
	};

	const stopReading = keepReading(desk, error => fail(error));
	void tick();
	const timer = setInterval(() => void tick(), 1000 / options.fps);

	try {
		return await ended;
	} finally {
		clearInterval(timer);
		stopReading();
		signal.removeEventListener('abort', onAbort);
		await screen.close();
	}
}
