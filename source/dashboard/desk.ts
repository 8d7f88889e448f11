import {escapeText} from '../escape-text.ts';
import type {LinkView, Snapshot} from '../session/snapshot.ts';
import {movingNow} from './assembly-rows.ts';
import {handChannels} from './channel-rows.ts';
import {findingKey, listedFindings} from './finding-rows.ts';
import type {GlovePicture, TrendPicture} from './glove-picture.ts';
import type {LiveGlove, StartRecording} from './live-glove.ts';
import {parseTime} from './parse-time.ts';
import type {ReplayPlayer} from './replay-player.ts';
import {layoutOverview, layoutScreen} from './screen-layout.ts';
import {steadySnapshot} from './steady-snapshot.ts';
import {trendBuckets} from './trend-chart.ts';
import {initialViewState, type Message, type Page, reduceView, type ViewState} from './view-state.ts';

/** One glove on the desk: live, or played from memory. */
export type Station = {
	readonly name: string;
	readonly kind: string;
	readonly baud: number | null;
} & (
	| {readonly live: LiveGlove; readonly player?: undefined}
	| {readonly player: ReplayPlayer; readonly live?: undefined}
);

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

export type ScreenSize = {readonly columns: number; readonly rows: number};

/** Numbers stand still for at least so long. */
const numbersHeldMs = 250;

/** The link's counters run on with every frame: off the link page they are shown as of so long ago. */
const countersHeldMs = 1000;

/** A notice stays for so long. */
const noticeMs = 6000;

/** What a glove showed last, to hold it steady, and what stands still while the picture is held. */
type Shown = {
	live?: Snapshot;
	steady?: Snapshot;
	steadyAtMs: number;
	link?: LinkView;
	linkAtMs: number;
	trend: TrendPicture | null;
	trendDueMs: number;
	frozen?: Snapshot;
	findings: number;
	moving: string | null;
};

/**
 * The gloves and what the person at the keys wants of them: takes messages, moves time on, and gives the pictures the
 * components draw. Knows neither terminal nor clock; `nowMs` is any monotonic one.
 */
export class Desk {
	view: ViewState;
	readonly stations: readonly Station[];
	readonly #options: DeskOptions;
	readonly #shown: Shown[];
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
		this.#shown = stations.map(() => ({
			steadyAtMs: Number.NEGATIVE_INFINITY,
			linkAtMs: Number.NEGATIVE_INFINITY,
			trend: null,
			trendDueMs: Number.NEGATIVE_INFINITY,
			findings: 0,
			moving: null,
		}));
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
		for (const shown of this.#shown) {
			shown.steadyAtMs = Number.NEGATIVE_INFINITY;
			shown.linkAtMs = Number.NEGATIVE_INFINITY;
			shown.trendDueMs = Number.NEGATIVE_INFINITY;
		}
	}

	/** Moves time on. */
	tick(nowMs: number): void {
		const elapsed = this.#lastTickMs === undefined ? 0 : Math.max(0, nowMs - this.#lastTickMs) / 1000;
		this.#lastTickMs = nowMs;
		this.#nowMs = nowMs;
		for (const {live, player} of this.stations) {
			live?.tick();
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
		const snapshots = this.stations.map((station, index) => this.#snapshot(station, index));
		this.view = reduceView(this.view, {
			type: 'facts',
			gloves: snapshots.map(snapshot => ({
				channels: handChannels(snapshot).map(channel => channel.name),
				findings: listedFindings(snapshot).map(findingKey),
				t: Math.floor(snapshot.t),
			})),
		});
		return this.stations.map((station, index) => this.#picture(station, index, snapshots[index], size));
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

	/** Waits for what is being written, and closes the sources. Resolves to what became of the recordings, in lines. */
	async close(): Promise<string[]> {
		await this.#work;
		const outcomes = await Promise.all(this.stations.map(station => station.live?.close()));
		return outcomes.filter(outcome => outcome !== undefined);
	}

	get #players(): readonly ReplayPlayer[] {
		return this.stations.flatMap(station => station.player ?? []);
	}

	#snapshot(station: Station, index: number): Snapshot {
		const shown = this.#shown[index];
		const session = station.live?.session ?? station.player!.session;
		const snapshot = session.snapshot();
		this.#noticeNews(shown, snapshot);
		if (this.view.mode === 'live' && this.view.held) {
			shown.frozen ??= snapshot;
			return shown.frozen;
		}

		shown.frozen = undefined;
		return snapshot;
	}

	#noticeNews(shown: Shown, snapshot: Snapshot): void {
		if (snapshot.findings.length > shown.findings) this.#ring = true;
		shown.findings = snapshot.findings.length;
		const moving = movingNow(snapshot)?.name ?? null;
		if (this.view.page === 'assembly' && moving !== null && moving !== shown.moving) this.#ring = true;
		shown.moving = moving ?? shown.moving;
	}

	#picture(station: Station, index: number, snapshot: Snapshot, size: ScreenSize): GlovePicture {
		const shown = this.#shown[index];
		if (this.#nowMs - shown.steadyAtMs >= numbersHeldMs || shown.steady?.layout !== snapshot.layout) {
			shown.steady = this.#withLink(shown, steadySnapshot(shown.steady, snapshot));
			shown.steadyAtMs = this.#nowMs;
		}

		if (this.#nowMs >= shown.trendDueMs) {
			shown.trend = this.#trend(station, snapshot, size);
			shown.trendDueMs = this.#nowMs + columnMs(shown.trend);
		}

		shown.live = {...steadySnapshot(shown.live, snapshot), link: shown.steady!.link};
		const {live, player} = station;
		const selected =
			snapshot.findings.find(finding => findingKey(finding) === this.view.finding) ?? listedFindings(snapshot)[0];
		const session = live?.session ?? player!.session;
		const notice =
			this.#notice && this.#notice.untilMs > this.#nowMs && index === this.view.focus ? this.#notice.text : null;
		return {
			name: station.name,
			kind: station.kind,
			baud: station.baud,
			live: shown.live,
			steady: shown.steady!,
			silentFor: live && live.over === null ? Math.floor(snapshot.link.silentForSeconds) : null,
			lostFor: live?.lostFor == null ? null : Math.floor(live.lostFor),
			recording: live?.recording ?? null,
			position: player
				? {
						t: player.t,
						duration: player.duration,
						playing: !this.view.held,
						speed: this.view.speed,
						loop: this.view.loop,
						readTo: player.readTo,
						findings: player.findingsAhead.map(finding => finding.flaggedAt),
						marks: player.marks,
					}
				: null,
			trend: shown.trend,
			freezeFrame:
				this.view.page === 'findings' && selected
					? (session.freezeFrame(selected.code, selected.channel) ?? null)
					: null,
			over: live?.over ?? null,
			notice,
		};
	}

	#withLink(shown: Shown, steady: Snapshot): Snapshot {
		const {link} = steady;
		const elsewhere = shown.steady?.layout !== steady.layout || Math.abs(steady.t - (shown.steady?.t ?? 0)) > 1;
		const due = elsewhere || this.view.page === 'link' || this.#nowMs - shown.linkAtMs >= countersHeldMs;
		// After a seek, everything is of the new place; and what went wrong on the link is news at once.
		if (due || shown.link?.badLines !== link.badLines || shown.link.strayLines !== link.strayLines) {
			shown.link = link;
			shown.linkAtMs = this.#nowMs;
		}

		return {...steady, link: shown.link!};
	}

	/** The history the page on screen will draw, one bucket per column. */
	#trend(station: Station, snapshot: Snapshot, size: ScreenSize): TrendPicture | null {
		const {view} = this;
		const screen = layoutScreen(size.columns, size.rows, view);
		const onPage = view.page === 'trend';
		if (screen.tooSmall || (!onPage && view.page !== 'overview')) return null;
		const overview = layoutOverview(screen.gloveWidth, screen.bodyHeight, snapshot);
		if (!onPage && overview.trendHeight === 0) return null;
		const buckets = trendBuckets(onPage ? screen.gloveWidth : overview.rightWidth);
		const names = onPage ? [...new Set([view.channel, ...view.pinned])] : [view.channel];
		const channels = names.flatMap(name => snapshot.channels.find(channel => channel.name === name) ?? []);
		const {from, to} = trendWindow(snapshot.t, view.trendSeconds, view.trendEnd);
		const session = station.live?.session ?? station.player!.session;
		return {
			from,
			to,
			series: channels.slice(0, 4).map(channel => ({
				name: channel.name,
				buckets: session.trend(channel.index, from, to, buckets),
			})),
		};
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
		live.mark(text);
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

/** A chart is drawn again when the next column begins, but neither faster than numbers nor slower than a second. */
function columnMs(trend: TrendPicture | null): number {
	const columns = trend?.series[0]?.buckets.length;
	if (trend === null || columns === undefined) return numbersHeldMs;
	return Math.max(numbersHeldMs, Math.min(1000, (1000 * (trend.to - trend.from)) / columns));
}

/**
 * The stretch of time a trend shows. It moves on by quarters of its width, so that the picture stands still while the
 * line grows into it.
 */
export function trendWindow(t: number, width: number, end: number | null): {from: number; to: number} {
	const step = width / 4;
	const to = Math.max(width, end ?? Math.ceil((t + 1e-9) / step) * step);
	return {from: to - width, to};
}
