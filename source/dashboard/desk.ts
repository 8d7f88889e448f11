import type {Guide} from '../bringup/guide.ts';
import {itemAt} from '../item-at.ts';
import {escapeText} from '../text/escape-text.ts';
import {parseTime} from '../text/parse-time.ts';
import {handChannels} from './channel-rows.ts';
import {findingKey, listedFindings} from './finding-rows.ts';
import type {GlovePicture} from './glove-picture.ts';
import {GloveView, type Station} from './glove-view.ts';
import {messageForKey} from './keys.ts';
import type {LiveGlove, StartRecording} from './live-glove.ts';
import {partingLines} from './parting-lines.ts';
import type {ReplayPlayer} from './replay-player.ts';
import type {ScreenSize} from './trend-window.ts';
import {
	type Effect,
	initialViewState,
	type Message,
	type Page,
	type Reduced,
	reduceKey,
	reduceView,
	type ViewState,
} from './view-state.ts';

export type DeskOptions = {
	readonly mode: 'live' | 'replay';
	readonly held?: boolean;
	readonly speed?: number;
	readonly page?: Page;
	/** Begins with bells on. */
	readonly bell?: boolean;
	/** What to try next, said on leaving. */
	readonly tryNext?: string;
	/** The verdict is told elsewhere on leaving. */
	readonly isQuiet?: boolean;
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
	#bells = 0;
	/** Where recordings went that were ended before the desk was. */
	readonly #recorded: string[] = [];
	readonly #stopwatch: () => number;
	#work: Promise<unknown> = Promise.resolve();

	constructor(stations: readonly Station[], options: DeskOptions) {
		this.stations = stations;
		this.#options = options;
		this.#stopwatch = options.stopwatch ?? (() => performance.now());
		this.#views = stations.map(station => new GloveView(station));
		this.view = initialViewState({
			...options,
			gloves: stations.length,
			guided: stations.some(({guide}) => guide !== undefined),
		});
	}

	/** Takes a message: changes the view, and does in the world what it asks for. What is left is the terminal's. */
	handle(message: Message): readonly Effect[] {
		return this.#take(reduceView(this.view, message));
	}

	/** Takes a key, by its name. */
	press(key: string): readonly Effect[] {
		const message = messageForKey(key, this.view);
		return message === undefined ? [] : this.#take(reduceKey(this.view, message, key));
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
		for (const view of this.#views) this.#bells = Math.max(this.#bells, view.look(this.view));
		this.view = reduceView(this.view, {
			type: 'facts',
			gloves: this.#views.map(({snapshot}) => ({
				channels: handChannels(snapshot).map(channel => channel.name),
				findings: listedFindings(snapshot).map(findingKey),
				t: Math.floor(snapshot.t),
			})),
			offered: this.#guide?.view?.mayTake ?? false,
		}).view;
		const notice = this.#notice && this.#notice.untilMs > this.#nowMs ? this.#notice.text : null;
		return this.#views.map((view, index) =>
			view.picture(this.view, size, this.#nowMs, index === this.view.focus ? notice : null),
		);
	}

	/** Bells that are due, once. */
	takeBells(): number {
		const bells = this.#bells;
		this.#bells = 0;
		return this.view.bell ? bells : 0;
	}

	say(text: string): void {
		this.#notice = {text, untilMs: this.#nowMs + noticeMs};
	}

	async startRecording(glove: number, path: string): Promise<void> {
		await itemAt(this.stations, glove).live?.startRecording(path, this.#options.startRecording(glove));
	}

	/** What to leave on the terminal: of each glove the verdict, and what to do first; of a replay, as far as it is read. */
	partingLines(): string[] {
		if (this.#options.isQuiet) return [];
		return this.stations.flatMap(({name, live, player}) =>
			partingLines(live?.session.snapshot() ?? player!.snapshotAhead, this.stations.length > 1 ? name : null),
		);
	}

	/** Waits for what is being written, and closes the sources. Resolves to what became of the recordings, in lines. */
	async close(): Promise<string[]> {
		await this.#work;
		const outcomes = await Promise.all(this.stations.map(station => station.live?.close()));
		const recorded = [...this.#recorded, ...outcomes.filter(outcome => outcome !== undefined)];
		const isLive = this.view.mode === 'live' && !this.#options.isQuiet;
		const {tryNext} = this.#options;
		return [
			...recorded,
			...(isLive && recorded.length === 0 ? ['Nothing was recorded: --record FILE, or r, keeps what comes.'] : []),
			...(tryNext === undefined ? [] : [tryNext]),
		];
	}

	get #players(): readonly ReplayPlayer[] {
		return this.stations.flatMap(station => station.player ?? []);
	}

	get #guide(): Guide | undefined {
		return itemAt(this.stations, this.view.focus).guide;
	}

	#take({view, effects}: Reduced): readonly Effect[] {
		const before = this.view;
		this.view = view;
		// Whoever pressed a key wants to see its effect, not numbers of a quarter second ago.
		this.refresh();
		return effects.filter(effect => !this.#perform(effect, before));
	}

	/** Does what a message asks for; false where that is not the desk's. */
	#perform(effect: Effect, before: ViewState): boolean {
		if (isPlaying(effect)) {
			for (const player of this.#players) playOn(player, effect);
			return true;
		}

		const {live} = itemAt(this.stations, before.focus);
		switch (effect.do) {
			case 'jump':
				this.#jump(before, effect.by, effect.to);
				break;
			case 'go-to':
				this.#goTo(effect.text);
				break;
			case 'mark':
				if (live) this.#mark(live, effect.text);
				break;
			case 'forget':
				this.#work = Promise.all([this.#work, live?.forget(effect.channel)]);
				this.say(
					`Forgotten ${effect.channel === null ? 'of all channels' : `of ${effect.channel}`}: range, rest, reach, presses, proof. Move it again.`,
				);
				break;
			case 'guide':
				this.#guide?.[effect.what]();
				break;
			case 'record':
				this.#work = this.#work
					.then(() => this.#toggleRecording(before.focus))
					.catch((error: Error) => this.say(error.message));
				break;
			case 'say':
				this.say(effect.text);
				break;
			default:
				return false;
		}

		return true;
	}

	#goTo(text: string): void {
		const t = parseTime(text);
		if (t === undefined) this.say(`"${escapeText(text, 20)}" is no time: it takes 12:30, 1:02:03, 90s or 1.5m.`);
		else for (const player of this.#players) player.seek(t);
	}

	#mark(live: LiveGlove, text: string): void {
		this.#work = Promise.all([this.#work, live.mark(text)]);
		this.say(
			live.recording
				? 'Mark kept in the recording.'
				: 'Mark kept on the screen only: nothing is being recorded (r records).',
		);
	}

	#jump(view: ViewState, by: 1 | -1, what: 'finding' | 'mark'): void {
		const {player} = itemAt(this.stations, view.focus);
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
		const {live} = itemAt(this.stations, glove);
		if (!live) return;
		if (live.recording) {
			const outcome = (await live.stopRecording()) ?? '';
			this.#recorded.push(outcome);
			this.say(outcome);
			return;
		}

		const path = this.#options.recordingPath(glove);
		await this.startRecording(glove, path);
		this.say(`Recording to ${path}`);
	}
}

/** What moves the place in a replay, in every glove alike. */
type Playing = Extract<Effect, {readonly do: 'seek' | 'seek-share' | 'seek-edge' | 'play-on' | 'step'}>;

const playing: readonly Effect['do'][] = ['seek', 'seek-share', 'seek-edge', 'play-on', 'step'];

function isPlaying(effect: Effect): effect is Playing {
	return playing.includes(effect.do);
}

function playOn(player: ReplayPlayer, effect: Playing): void {
	if (effect.do === 'step') player.step(effect.by);
	else if (effect.do === 'seek') player.seek(player.t + effect.by);
	else if (effect.do === 'seek-share') player.seek(player.t + effect.by * player.duration);
	else if (effect.do === 'seek-edge') player.seek(effect.edge === 'start' ? 0 : player.duration);
	else if (player.atEnd) player.seek(0);
}
