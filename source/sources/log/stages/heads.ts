import {readLabel} from '../../../framing/read-label.ts';
import type {LeftOut} from '../../../stream/intake.ts';
import {countNumbers, type LineStage, type StageFinder} from './line-stage.ts';
import {twoSenders} from './two-hands.ts';

/** What stands before the readings of a line, and a time in it. */
type Head = {
	/** Where the readings begin; 0 where there is no head. */
	readonly end: number;
	/** A clock time or date, as written. */
	readonly clock: string | null;
	/** A number alone in brackets or parentheses: a time, a process, a line. */
	readonly number: string | null;
	/** A name before a colon is all there is of it: then the readings must be without labels of their own. */
	readonly onlyName: boolean;
	/** Where the clock and the number stand; −1 without one. */
	readonly clockAt: number;
	readonly numberAt: number;
	/** The last name or port in it, and where it stands: two that take turns are two gloves. */
	readonly sender: string;
	readonly senderAt: number;
};

const noHead: Head = {
	end: 0,
	clock: null,
	number: null,
	onlyName: false,
	clockAt: -1,
	numberAt: -1,
	sender: '',
	senderAt: -1,
};

/** Only so much of a line is looked at. */
const longestHead = 200;
const mostItems = 12;
/** Enough to see that a label or a value begins. */
const longestLabel = 60;

type PartKind = 'clock' | 'number' | 'word' | 'name';

/**
 * What heads are made of, in the order in which they are tried. Sources: RFC 5424 and RFC 3164 (syslog: priority, date,
 * host, program with its process id); the ESP-IDF Programming Guide, "Logging library" (`I (1234) glove: `) and Zephyr
 * documentation, "Logging" (`[00:00:01.234,567] <inf> glove: `); Python documentation, `logging.basicConfig`
 * (`INFO:root:`). Port names as systems give them. The rest is common practice, no source.
 */
const clock =
	/\[?(?:(?:\d{4}[-/.]\d\d[-/.]\d\d|\d{1,2}[./]\d{1,2}[./]\d{2,4}),?[T ]\s?|(?:[A-Z][a-z]{2} )?[A-Z][a-z]{2} [ \d]\d (?:\d{4} )?)?\d{1,2}:\d\d(?::\d\d(?:[.,:]\d{1,9})?)?(?: ?[ap]m\b)?(?:Z|(?<=\d)[+-]\d\d:?\d\d)?(?:,\d{3})?\]?/iy;
const numberForm = /[[(]\s{0,9}(\d{1,15}(?:[.]\d{1,9})?)\s{0,3}(?:ms|us|s)?[\])]:?/y;
const items: readonly {readonly kind: PartKind; readonly form: RegExp}[] = [
	{kind: 'word', form: /<\d{1,3}>(?:1 (?=\d{4}-))?/y},
	{kind: 'clock', form: clock},
	{kind: 'number', form: numberForm},
	{kind: 'word', form: /\[(?!["'\s])[^\][=\d][^\][={}]{0,40}\]:?/y},
	{kind: 'word', form: /<[a-z]{1,12}>/iy},
	{kind: 'word', form: /[[(]\d{1,8} ?(?:bytes?|chars?|characters|octets|B)[\])]:?/iy},
	{kind: 'word', form: /[\w./@-]{1,40}[[(]\d{1,8}[\])]:?(?=[\s:])/y},
	{kind: 'word', form: /[\w.-]{1,60} (?=[\w./@-]{1,40}\[\d{1,8}\]:?\s)/y},
	{kind: 'word', form: /(?:COM\d{1,3}|\/dev\/[\w./-]{1,40}|(?:tty|cu\.)[A-Za-z][\w.-]{0,30})(?=[\s:>|,-])/y},
	{
		kind: 'word',
		form: /(?:EMERG|ALERT|CRIT(?:ICAL)?|ERR(?:OR)?|WARN(?:ING)?|NOTICE|INFO|DEBUG|DBG|TRACE|VERBOSE|FATAL|LOG|RX|RECV|RECEIVED|[EWIDV](?= [[(]))\b(?=[\s:|>\]-])/iy,
	},
	{kind: 'word', form: /[\w.-]{1,40}\.\w{1,5}:\d{1,6}(?=[\s:\]])/y},
	{
		kind: 'name',
		form: /[A-Za-z\x80-\xff][\w.@/#()\x80-\xff-]{0,40}(?: [A-Za-z\x80-\xff(][\w.@()\x80-\xff-]{0,30}){0,2} {0,3}(?:=>|->|[:>|])(?=[\s\dA-Za-z[{(<"'+-])/y,
	},
];
const between = /(?:[\s:|>,;]|=>|->|[-–—](?=\s)|\xe2\x80[\x93\x94])+/y;

/** Where a frame can begin: a value, a bracket, a quote, or a label with its sign. */
const beginsFrame =
	/^(?:[[({<"']*[+-]?\.?\d|[[({<]+\s*[+-]?["'\d.]|[A-Za-z\x80-\xff_][\w.\x80-\xff-]*\s*[:=]\s*[[({"']*[+-]?\.?\w|[A-Za-z]{1,2}[+-]?\d|\$)/;

/** Takes the head of a line apart. */
function readHead(line: string): Head {
	const limit = Math.min(line.length, longestHead);
	let at = 0;
	while (at < limit && (line.charCodeAt(at) === 0x20 || line.charCodeAt(at) === 0x09)) at++;
	const parts = new HeadParts();
	let end = 0;
	for (let count = 0; count < mostItems && at < limit; count++) {
		const item = nextItem(line, at, parts.hasAny);
		if (item === undefined) break;
		parts.take(item.kind, item.text, at);
		at += item.text.length;
		between.lastIndex = at;
		at += between.exec(line)?.[0].length ?? 0;
		end = at;
	}

	const rest = line.slice(end);
	return parts.canStandBefore(rest) && !parts.isReading(line) ? parts.head(end) : noHead;
}

/** What a head was found to be made of. */
class HeadParts {
	#clock: string | null = null;
	#clockAt = -1;
	#number: string | null = null;
	#numberAt = -1;
	#words = 0;
	#names = 0;
	#sender = '';
	#senderAt = -1;

	get hasAny(): boolean {
		return this.#words + this.#names > 0 || this.#clock !== null || this.#number !== null;
	}

	/** Takes a part that stands at `at`; of clocks and of numbers the first one counts. */
	take(kind: PartKind, text: string, at: number): void {
		if (kind === 'clock') {
			if (this.#clock === null) this.#clockAt = at;
			this.#clock ??= clockText(text);
		} else if (kind === 'number') {
			if (this.#number === null) this.#numberAt = at;
			this.#number ??= numberText(text);
		} else if (kind === 'name') this.#names++;
		else this.#words++;
		if (kind === 'name' || hostWords.test(text)) {
			this.#sender = text;
			this.#senderAt = at;
		}
	}

	/** A clock alone is no head: it is read as a time. */
	canStandBefore(rest: string): boolean {
		if (this.#words + this.#names === 0 && this.#number === null) return false;
		return rest !== '' && beginsFrame.test(rest);
	}

	/** A number alone in brackets may be the first reading. */
	isReading(line: string): boolean {
		if (this.#words + this.#names > 0 || this.#clock !== null) return false;
		const text = line.trimStart();
		return !/^[[(]\s*\d[^\])]*[\])]\s*(?:[[(]|:|>|-)/.test(text) && !/^[[(].{1,20}[\])]\s+\S/.test(text);
	}

	head(end: number): Head {
		return {
			end,
			clock: this.#clock,
			number: this.#number,
			onlyName: this.#words === 0 && this.#number === null && this.#clock === null,
			clockAt: this.#clockAt,
			numberAt: this.#numberAt,
			sender: this.#sender,
			senderAt: this.#senderAt,
		};
	}
}

/** The head without its sender, where that tells two gloves apart. */
function withoutSender(head: Head): Head {
	return head.senderAt < 0 ? head : {...head, end: head.senderAt};
}

function clockText(text: string): string {
	return text.replaceAll(/[[\]]/g, '').replace(/(\.\d{3}),(?=\d{3}$)/, '$1');
}

function numberText(text: string): string | null {
	return /\d+(?:\.\d+)?/.exec(text)?.[0] ?? null;
}

/** A head that was taken apart, as a form that others of its kind fit but for their digits: far quicker than taking each apart. */
type Form = {
	readonly pattern: RegExp;
	readonly hasClock: boolean;
	readonly hasNumber: boolean;
	/** It names a computer, its user or its port: no glove says that. */
	readonly isHosts: boolean;
};

/** `anna@bench`, `COM5`, `/dev/ttyUSB0`. */
const hostWords = /\w@\w|\bCOM\d|\/dev\/\w|\b(?:tty[A-Z]|cu\.)/;

const mostForms = 16;

function formOf(line: string, {end, clock: time, clockAt, number, numberAt}: Head): Form {
	const literal = (from: number, to: number): string =>
		line
			.slice(from, to)
			.replaceAll(/[\\^$.*+?()[\]{}|/-]/g, '\\$&')
			.replaceAll(/\d+/g, '\\d+')
			.replaceAll(/[ \t]+/g, '[ \\t]+');
	const marked: {from: number; to: number; name: string}[] = [];
	const lengthAt = (at: number, form: RegExp): number => {
		form.lastIndex = at;
		return form.exec(line)?.[0].length ?? 0;
	};
	if (time !== null) marked.push({from: clockAt, to: clockAt + lengthAt(clockAt, clock), name: 'clock'});
	if (number !== null) marked.push({from: numberAt, to: numberAt + lengthAt(numberAt, numberForm), name: 'number'});
	marked.sort((a, b) => a.from - b.from);
	let text = '';
	let at = 0;
	for (const {from, to, name} of marked) {
		text += `${literal(at, from)}(?<${name}>${literal(from, to)})`;
		at = to;
	}

	return {
		pattern: new RegExp(text + literal(at, end), 'y'),
		hasClock: time !== null,
		hasNumber: number !== null,
		isHosts: hostWords.test(line.slice(0, end)),
	};
}

function nextItem(line: string, at: number, isBehindOne: boolean): {kind: PartKind; text: string} | undefined {
	for (const {kind, form} of items) {
		form.lastIndex = at;
		const text = form.exec(line)?.[0];
		if (text === undefined) continue;
		if (kind === 'clock' && !/:\d\d/.test(text)) continue;
		if (kind === 'name' && !isPrefixName(line, at, text, isBehindOne)) continue;
		return {kind, text};
	}

	return undefined;
}

/** Numbers that a line must have for a name in front of them to be no label of the first. */
const leastBehindName = 3;

/** Whether a word and its sign are nobody's label: another label follows, or several values without one. */
function isPrefixName(line: string, at: number, text: string, isBehindOne: boolean): boolean {
	const rest = line.slice(at + text.length).trimStart();
	const word = text.replace(/\s*(?:=>|->|[:>|])$/, '');
	if (/^(?:l|r|left|right|lh|rh|links|rechts)$/i.test(word)) return false;
	if (/^(?:[[({]\s*)?["']?[A-Za-z\x80-\xff_][\w.\x80-\xff-]*["']?\s*(?:[:=]|\s+[+-]?\d)/.test(rest)) return true;
	if (/^[A-Z][+-]?\d+ ?[A-Z][+-]?\d/.test(rest)) return true;
	if (/[A-Za-z]\s*[:=]/.test(rest)) return false;
	const known = readLabel(word);
	if (known !== undefined && !isBehindOne) return false;
	return countNumbers(rest) >= leastBehindName || (isBehindOne && /^[[({]?[+-]?\d/.test(rest));
}

/** Lines of a log that have a head of the same kind, for it to be taken off. */
const leastShare = 0.5;

/**
 * What programs put before the lines they keep: date, host, process, level, port, a sender's name. It goes; a time in it
 * stays in front, marked by an arrow.
 */
class Heads implements LineStage {
	#lines = 0;
	readonly #numberIsTime: boolean;
	readonly #chat: boolean;
	#chatLines = 0;
	readonly #forms: Form[] = [];
	readonly #keepsSender: boolean;

	constructor(numberIsTime: boolean, chat: boolean, keepsSender: boolean) {
		this.#keepsSender = keepsSender;
		this.#numberIsTime = numberIsTime;
		this.#chat = chat;
	}

	take(line: string, pass: (line: string) => void): void {
		const head = this.#headOf(line);
		if (head.end === 0) {
			if (this.#chat && isChatter(line)) this.#chatLines++;
			else pass(line);
			return;
		}

		this.#lines++;
		const time = head.clock !== null && hasSeconds(head.clock) ? head.clock : this.#numberIsTime ? head.number : null;
		pass(time === null ? line.slice(head.end) : `${time} -> ${line.slice(head.end)}`);
	}

	/** Knows a head's form from a line that has one. */
	learn(line: string): void {
		this.#headOf(line);
	}

	#headOf(line: string): Pick<Head, 'end' | 'clock' | 'number'> {
		for (const [place, {pattern, hasClock, hasNumber, isHosts}] of this.#forms.entries()) {
			pattern.lastIndex = 0;
			const match = pattern.exec(line);
			if (match === null) continue;
			// What a computer puts before readings it puts before the glove's words too.
			if (
				!isHosts &&
				!this.#keepsSender &&
				!beginsFrame.test(line.slice(pattern.lastIndex, pattern.lastIndex + longestLabel))
			)
				continue;
			if (place > 0) this.#forms.unshift(...this.#forms.splice(place, 1));
			const {clock: time = '', number = ''} = match.groups ?? {};
			return {
				end: pattern.lastIndex,
				clock: hasClock ? clockText(time) : null,
				number: hasNumber ? numberText(number) : null,
			};
		}

		const head = this.#keepsSender ? withoutSender(readHead(line)) : readHead(line);
		if (head.end > 0 && this.#forms.length < mostForms) this.#forms.push(formOf(line, head));
		return head;
	}

	get told(): LeftOut | undefined {
		return this.#lines === 0
			? undefined
			: {what: 'what stands before the readings (date, host, program, level, port, name)', lines: this.#lines};
	}

	get alsoTold(): LeftOut | undefined {
		return this.#chatLines === 0 ? undefined : {what: 'lines of a chat', lines: this.#chatLines};
	}
}

function hasSeconds(text: string): boolean {
	return /\d:\d\d:\d\d/.test(text);
}

/** Something said in a chat: a time and a name, and no readings. */
function isChatter(line: string): boolean {
	return (
		/^\[?.{0,24}\d:\d\d.{0,12}?[\]\s-].{1,60}: /.test(line) &&
		countNumbers(line.replace(/^.*?\d:\d\d(?::\d\d)?/, '')) < leastBehindName
	);
}

export const findHeads: StageFinder = sample => {
	const heads = sample.map(readHead);
	const headed = heads.filter(({end}) => end > 0);
	const filled = sample.filter(line => countNumbers(line) > 0).length;
	if (headed.length < 3 || headed.length < leastShare * filled) return undefined;
	const keepsSender = twoSenders(headed.map(({sender}) => sender)) !== undefined;
	if (keepsSender && headed.every(({senderAt}) => senderAt <= 0)) return undefined;
	const numbers = headed.flatMap(({number}) => (number === null ? [] : [Number(number)]));
	const numberIsTime = numbers.length > 0.9 * headed.length && isRising(numbers);
	// Names that never change are a prefix that says nothing: reading does without them.
	const chat = headed.filter(({clock}) => clock !== null).length > 0.5 * headed.length;
	const stage = new Heads(numberIsTime, chat, keepsSender);
	// Start-up text stands before the first readings: its heads are known by those of the readings.
	stage.learn(sample[heads.findIndex(({end}) => end > 0)]);
	return stage;
};

function isRising(numbers: readonly number[]): boolean {
	let falls = 0;
	for (let i = 1; i < numbers.length; i++) if (numbers[i] < numbers[i - 1]) falls++;
	return numbers.at(-1)! > numbers[0] && falls <= 0.03 * numbers.length;
}
