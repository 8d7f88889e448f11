import type {Channel, ReadBy} from '../framing/layout.ts';
import type {ReadInfo, SessionPart} from '../session/run-session.ts';
import type {Snapshot} from '../session/snapshot.ts';
import {headerLine, type LeftOut, omittedLines} from '../stream/intake.ts';
import {listText} from '../text/list-text.ts';
import {countText, secondsText} from '../text/number-text.ts';
import {verdictWord} from './verdict-text.ts';

/** How a source was read: what every report begins with. */
type Intake = {
	/** What was read as what, what was left out, and the sessions, a sentence each. */
	readonly lines: readonly string[];
	readonly leftOut: readonly LeftOut[];
	readonly odd: readonly string[];
};

/** So many columns are named one by one. */
const mostNamed = 20;

const separators: Readonly<Record<string, string>> = {
	',': 'comma',
	';': 'semicolon',
	'\t': 'tab',
	' ': 'blanks',
	'|': 'bar',
};

/** The intake of a session that is over. */
export function intakeOf(snapshot: Snapshot, info: ReadInfo): Intake {
	const {layout, link} = snapshot;
	const header = (snapshot.takenOut ?? []).find(({what}) => what === headerLine)?.lines ?? 0;
	const stray = Math.max(0, link.strayLines - header);
	const told = (info.intake?.leftOut ?? []).some(({what}) => what === omittedLines);
	const gaps = told ? 0 : snapshot.events.filter(({event}) => event === 'gap').length;
	const leftOut = [
		...(info.intake?.leftOut ?? []),
		...(snapshot.takenOut ?? []),
		...(gaps > 0 ? [{what: omittedLines, lines: gaps}] : []),
		...(stray > 0 && link.frames > 0 ? [{what: 'lines that are no frames', lines: stray}] : []),
		...(link.badLines > 0 && link.frames > 0 ? [{what: 'damaged frames', lines: link.badLines}] : []),
	];
	const lines: string[] = [];
	if (layout !== null && layout.channels.length > 0) lines.push(readSentence(snapshot, info));
	if (leftOut.length > 0)
		lines.push(
			`Taken out or left out: ${leftOut.map(({what, lines: count}) => `${what} (${countText(count, 'line')})`).join(', ')}.`,
		);
	lines.push(...sessionSentences(info));
	return {
		lines,
		leftOut,
		odd: [...(info.intake?.odd ?? []), ...oddColumns(layout?.channels ?? []), ...tooLittle(snapshot, info)],
	};
}

function readSentence({layout, channels}: Snapshot, {intake, timing}: ReadInfo): string {
	const steps = intake?.steps ?? [];
	const form =
		layout?.framing === 'text'
			? layout.separator === null
				? 'text'
				: `text (${separators[layout.separator] ?? 'other separators'})`
			: (layout?.framing ?? 'text').toUpperCase();
	const groups: {by: ReadBy | undefined; isIdle: boolean; channels: Channel[]}[] = [];
	for (const channel of layout?.channels ?? []) {
		const last = groups.find(group => group.by === channel.by && group.isIdle === isIdle(channel));
		if (last === undefined) groups.push({by: channel.by, isIdle: isIdle(channel), channels: [channel]});
		else last.channels.push(channel);
	}

	const parts = groups.map(
		group =>
			`${namesText(group.channels)}${groups.length === 1 && group.by === 'place' ? ' (by place)' : whyText(group.by, group.isIdle)}`,
	);
	const times =
		timing === 'column'
			? '; times from the log'
			: timing === 'assumed' && intake?.coarseTimes
				? '; times too coarse to tell lines apart, so these are spread evenly'
				: timing === 'assumed'
					? '; no times, so the rate is assumed (--rate)'
					: '';
	return `Read as ${[...steps, form].join(', ')}, ${countText(channels.length, 'column')}: ${parts.join('; ')}${times}.`;
}

/** A column that is judged by nobody. */
function isIdle({role}: Channel): boolean {
	return role === 'spare' || role === 'battery' || role === 'clock' || role === 'counter';
}

function namesText(channels: readonly Channel[]): string {
	const texts = channels.map(({name, label, by, hand}) => {
		const shown =
			label !== undefined && (by === 'order' || by === 'values') && label !== name
				? `${name} = "${label.slice(0, 24)}"`
				: name;
		return hand === undefined ? shown : `${shown} (hand ${hand})`;
	});
	if (texts.length <= mostNamed) return texts.join(', ');
	return `${texts.slice(0, 3).join(', ')} … ${texts.at(-1)} (${texts.length})`;
}

function whyText(by: ReadBy | undefined, idle: boolean): string {
	switch (by) {
		case 'label':
			return idle ? ' by label, not judged' : ' by label';
		case 'order':
			return idle ? ' in order, left over and not judged' : ' in order, because no list knows their labels';
		case 'values':
			return ' because they have two values';
		case 'place':
			return idle ? ' left over, not judged' : ' by place';
		case 'behaviour':
			return ' by how they rise';
		case 'decimals':
			return ' not judged: decimals among whole numbers';
		case 'behind':
			return ' not judged: behind the buttons of a whole glove';
		case 'beyond':
			return ' not judged: more columns than are';
		case 'unknown':
			return ' not judged: no list knows them, and the fingers have labels of their own';
		case 'declared':
			return ' as declared';
		default:
			return '';
	}
}

/** What a channel was taken for, and why: `readAs` of the JSON. */
export function readAsText({label, by}: Pick<Channel, 'label' | 'by'>): string {
	const own = label === undefined ? '' : ` "${label.slice(0, 100)}"`;
	switch (by) {
		case 'label':
			return `by its label${own}`;
		case 'order':
			return `in order: no list knows its label${own}`;
		case 'values':
			return `two values under the label${own}`;
		case 'behaviour':
			return 'by how it rises';
		case 'decimals':
			return 'decimals among whole numbers: not judged';
		case 'behind':
			return 'behind the buttons of a whole glove: not judged';
		case 'beyond':
			return 'more columns than are judged';
		case 'unknown':
			return `no list knows its label${own}, and the fingers have their own: not judged`;
		case 'declared':
			return 'as declared';
		default:
			return 'by its place';
	}
}

function sessionSentences({sessions, part}: ReadInfo): string[] {
	if (sessions === undefined || sessions.length < 2) return [];
	const list = sessions.map(one => `${one.index} ${sessionText(one)}`).join('; ');
	const whys = [...new Set(sessions.map(({endedBy}) => endedBy).filter(why => why !== ''))];
	return [
		`${sessions.length} sessions (${listText(whys)}): ${list}. This is about session ${part}, in seconds from its start; --session N tells of another.`,
	];
}

function sessionText({from, to, frames, verdict, findings}: SessionPart): string {
	const found = findings === 0 ? '' : `, ${countText(findings, 'finding')}`;
	return `${secondsText(from)} to ${secondsText(to)}, ${countText(frames, 'frame')}, ${verdictWord(verdict)}${found}`;
}

/** Columns left over behind a whole glove may be anything; so many are more than what boards add. */
const mostLeftOver = 2;

function oddColumns(channels: readonly Channel[]): string[] {
	const beyond = channels.filter(({by}) => by === 'beyond').length;
	const over = channels.filter(({by, role}) => role === 'spare' && (by === 'place' || by === 'order')).length;
	const odd: string[] = [];
	if (beyond > 0)
		odd.push(
			`${countText(beyond, 'column')} more than are judged: say with --layout which ones matter, - for the others.`,
		);
	if (over > mostLeftOver)
		odd.push(
			`${countText(over, 'column')} behind a whole glove are left over and not judged: if they are its fingers too, name all columns with --layout.`,
		);
	return odd;
}

/** A hand can do what is asked for in so long. */
const enoughSeconds = 10;
const enoughFrames = 100;

/** With less than that, or where nothing moved, nothing can be proven: what to send instead. */
function tooLittle({verdict, channels, link, t}: Snapshot, {timing}: ReadInfo): string[] {
	const hand = channels.filter(({role}) => role === 'finger' || role === 'stick');
	if (verdict !== 'unproven' || link.frames === 0 || hand.length === 0) return [];
	const moved = hand.filter(({lastMovedAt}) => lastMovedAt !== null).length;
	const isShort = link.frames < enoughFrames || (timing !== 'assumed' && t < enoughSeconds);
	if (!isShort && moved > 0) return [];
	const what = isShort ? `only ${countText(link.frames, 'frame')}` : 'nothing moved';
	const stick = hand.some(({role}) => role === 'stick') ? ', the stick round twice' : '';
	const button = channels.some(({role}) => role === 'button') ? ', each button twice' : '';
	return [`Too little to judge (${what}): send 20 s with three fists, each finger once${stick}${button}.`];
}
