import {escapeText} from '../text/escape-text.ts';
import {parseTime} from '../text/parse-time.ts';
import {handChannels} from './channel-rows.ts';
import {findingKey, listedFindings} from './finding-rows.ts';
import type {GlovePicture} from './glove-picture.ts';
import {GloveView, type Station} from './glove-view.ts';
import type {LiveGlove, StartRecording} from './live-glove.ts';
import {partingLines} from './parting-lines.ts';
import type {ReplayPlayer} from './replay-player.ts';
import type {ScreenSize} from './trend-window.ts';
import {initialViewState, type Message, type Page, reduceView, type ViewState} from './view-state.ts';

export type DeskOptions = {
	readonly mode: 'live' | 'replay';
	readonly held?: boolean;
	readonly speed?: number;
	readonly page?: Page;
	/** Rings on a new finding, and on the assembly page when another channel moves. */
	readonly bell?: boolean;
	readonly startRecording: (glove: number) => StartRecording;
	/** Name for a recording started from the keys. */
	readonly recordingPath: (glove: number) => string;
	/** Milliseconds from some start, to keep slices of work short. Default: the process's own. */
	readonly stopwatch?: () => number;
};

/** A notice stays for so long. */
const noticeMs = 6000;

/**
 * The gloves and what the person at the keys wants of them: takes messages, moves time on, and gives the pictures the
 * components draw. Knows neither terminal nor clock; `nowMs` is any monotonic one.
 */
export class Desk {
	view: ViewState;
	readonly stations: readonly Station[];
	readonly #options: DeskOptions;
	readonly #views: readonly GloveView[];
	#notice: {readonly text: string; readonly untilMs: number} | undefined;
	#lastTickMs: number | undefined;
	#nowMs = 0;
	#ring = false;
	readonly #stopwatch: () => number;
	#work: Promise<unknown> = Promise.resolve();

	constructor(stations: readonly Station[], options: DeskOptions) {
		this.stations = stations;
		this.#options = options;
		this.#stopwatch = options.stopwatch ?? (() => performance.now());
		this.#views = stations.map(station => new GloveView(station));
		this.view = initialViewState({...options, gloves: stations.length});
	}

	/** Takes a message: changes the view, and does in the world what it asks for. */
	handle(message: Message): void {
		const before = this.view;
		this.view = reduceView(before, message);
		this.#act(message, before);
		// Whoever pressed a key wants to see its effect, not numbers of a quarter second ago.
		this.refresh();
	}

	/** Everything shown is of now in the next pictures: numbers, counters and trends too. */
	refresh(): void {
		for (const view of this.#views) view.refresh();
	}

	/** Takes in what the live gloves have sent. */
	async gather(): Promise<void> {
		await Promise.all(this.stations.map(({live}) => live?.gather()));
	}

	/** Moves time on. */
	tick(nowMs: number): void {
		const elapsed = this.#lastTickMs === undefined ? 0 : Math.max(0, nowMs - this.#lastTickMs) / 1000;
		this.#lastTickMs = nowMs;
		this.#nowMs = nowMs;
		for (const {player} of this.stations) {
			if (player && !this.view.held) player.play(elapsed * this.view.speed, this.#stopwatch);
		}

		const players = this.#players;
		if (players.length > 0 && !this.view.held && players.every(player => player.atEnd)) {
			if (this.view.loop) for (const player of players) player.seek(0);
			else this.handle({type: 'played-out'});
		}
	}

	/** Reads replays ahead for about so long. True while there is more to read. */
	readAhead(budgetMs: number): boolean {
		return this.#players.map(player => player.readAhead(budgetMs, this.#stopwatch)).some(Boolean);
	}

	/** What to draw now. Also gives the reducer its facts, and notices what is worth a bell. */
	pictures(size: ScreenSize): readonly GlovePicture[] {
		for (const view of this.#views) if (view.look(this.view)) this.#ring = true;
		this.view = reduceView(this.view, {
			type: 'facts',
			gloves: this.#views.map(({snapshot}) => ({
				channels: handChannels(snapshot).map(channel => channel.name),
				findings: listedFindings(snapshot).map(findingKey),
				t: Math.floor(snapshot.t),
			})),
		});
		const notice = this.#notice && this.#notice.untilMs > this.#nowMs ? this.#notice.text : null;
		return this.#views.map((view, index) =>
			view.picture(this.view, size, this.#nowMs, index === this.view.focus ? notice : null),
		);
	}

	/** True once for each time a bell is due. */
	takeRing(): boolean {
		const ring = this.#ring;
		this.#ring = false;
		return ring && this.#options.bell === true;
	}

	say(text: string): void {
		this.#notice = {text, untilMs: this.#nowMs + noticeMs};
	}

	async startRecording(glove: number, path: string): Promise<void> {
		await this.stations[glove].live?.startRecording(path, this.#options.startRecording(glove));
	}

	/** What to leave on the terminal: of each glove the verdict, and what to do first; of a replay, as far as it is read. */
	partingLines(): string[] {
		return this.stations.flatMap(({name, live, player}) =>
			partingLines(live?.session.snapshot() ?? player!.snapshotAhead, this.stations.length > 1 ? name : null),
		);
	}

	/** Waits for what is being written, and closes the sources. Resolves to what became of the recordings, in lines. */
	async close(): Promise<string[]> {
		await this.#work;
		const outcomes = await Promise.all(this.stations.map(station => station.live?.close()));
		return outcomes.filter(outcome => outcome !== undefined);
	}

	get #players(): readonly ReplayPlayer[] {
		return this.stations.flatMap(station => station.player ?? []);
	}

	#act(message: Message, before: ViewState): void {
		const {live} = this.stations[before.focus];
		switch (message.type) {
			case 'travel':
				for (const player of this.#players) player.seek(player.t + message.by);
				break;
			case 'travel-far':
				for (const player of this.#players) player.seek(player.t + (message.by * player.duration) / 10);
				break;
			case 'edge':
				for (const player of this.#players) player.seek(message.edge === 'start' ? 0 : player.duration);
				break;
			case 'step':
				for (const player of this.#players) player.step(message.by);
				break;
			case 'to-finding':
				this.#jump(before, message.by, 'finding');
				break;
			case 'to-mark':
				this.#jump(before, message.by, 'mark');
				break;
			case 'hold':
				// Playing on from the end can only mean: once more.
				if (before.held) for (const player of this.#players) if (player.atEnd) player.seek(0);
				break;
			case 'forget-ranges':
				live?.session.resetRanges();
				if (live) this.say('Ranges forgotten: move every finger through its whole travel.');
				break;
			case 'entry-keep':
				if (before.entry?.text.trim()) this.#take(before.entry.what, before.entry.text.trim(), live);
				break;
			case 'record':
				this.#work = this.#work
					.then(() => this.#toggleRecording(before.focus))
					.catch((error: Error) => this.say(error.message));
				break;
			default:
		}
	}

	/** Does what was typed. */
	#take(what: 'mark' | 'time', text: string, live: LiveGlove | undefined): void {
		if (what === 'time') {
			const t = parseTime(text);
			if (t === undefined) this.say(`"${escapeText(text, 20)}" is no time: it takes 12:30, 1:02:03, 90s or 1.5m.`);
			else for (const player of this.#players) player.seek(t);
			return;
		}

		if (!live) return;
		this.#work = Promise.all([this.#work, live.mark(text)]);
		this.say(
			live.recording
				? 'Mark kept in the recording.'
				: 'Mark kept on the screen only: nothing is being recorded (r records).',
		);
	}

	#jump(view: ViewState, by: 1 | -1, what: 'finding' | 'mark'): void {
		const player = this.stations[view.focus].player;
		if (!player) return;
		const t = what === 'finding' ? player.findingBeside(by) : player.markBeside(by);
		if (t === undefined) {
			const reading = player.readTo < player.duration ? ' (still reading ahead)' : '';
			this.say(`No ${what} ${by > 0 ? 'after' : 'before'} this place${reading}.`);
			return;
		}

		for (const each of this.#players) each.seek(t);
	}

	async #toggleRecording(glove: number): Promise<void> {
		const {live} = this.stations[glove];
		if (!live) return;
		if (live.recording) {
			this.say((await live.stopRecording()) ?? '');
			return;
		}

		const path = this.#options.recordingPath(glove);
		await this.startRecording(glove, path);
		this.say(`Recording to ${path}`);
	}
}
