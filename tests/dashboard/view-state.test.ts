import {describe, expect, it} from 'vitest';
import {
	initialViewState,
	type Message,
	reduceKey,
	reduceView,
	type ViewState,
} from '../../source/dashboard/view-state.ts';

const facts: Message = {
	type: 'facts',
	gloves: [{channels: ['thumb', 'index', 'ring'], findings: ['dropout/ring', 'stall/'], t: 100}],
	offered: false,
};
const live = reduceView(initialViewState({mode: 'live', gloves: 1}), facts).view;
const replay = reduceView(initialViewState({mode: 'replay', gloves: 1}), facts).view;

const following = (state: ViewState, ...messages: Message[]) =>
	messages.reduce((now, message) => reduceView(now, message).view, state);
/** What a message asks for. */
const effectsOf = (state: ViewState, message: Message) => reduceView(state, message).effects;
const select = (by: 1 | -1): Message => ({type: 'select', by});
const page = (name: ViewState['page']): Message => ({type: 'page', page: name});

describe('pages', () => {
	it('Esc leads from any page to the overview, and from the keys to where one was', () => {
		expect(following(live, page('trend'), {type: 'back'}).page).toBe('overview');
		expect(following(live, page('trend'), page('keys'), {type: 'back'}).page).toBe('trend');
	});

	it('a second ? leads back; other keys always lead to their page', () => {
		expect(following(live, page('link'), page('keys'), page('keys')).page).toBe('link');
		expect(following(live, page('link'), page('link')).page).toBe('link');
	});
});

describe('selection', () => {
	it('begins with none, goes from the first channel and stops at the ends', () => {
		expect(live.channel).toBeNull();
		expect(following(live, select(1)).channel).toBe('thumb');
		expect(following(live, select(1), select(1), select(1), select(1)).channel).toBe('ring');
		expect(following(live, select(-1), select(-1)).channel).toBe('thumb');
	});

	it('is taken off by Esc', () => {
		expect(following(live, select(1), {type: 'back'}).channel).toBeNull();
	});

	it('opens the trend of what is selected, else what to do first', () => {
		expect(following(live, select(1), {type: 'open'})).toMatchObject({page: 'trend', channel: 'thumb'});
		expect(following(live, {type: 'open'})).toMatchObject({page: 'findings', finding: 'dropout/ring', detail: true});
	});

	it('is kept while the channels stay, whatever arrives', () => {
		expect(following(live, select(1), select(1), facts, facts).channel).toBe('index');
	});

	it('opens and closes the selected finding', () => {
		const opened = following(live, page('findings'), select(1), select(1), {type: 'open'});
		expect(opened).toMatchObject({finding: 'stall/', detail: true});
		expect(following(opened, {type: 'back'})).toMatchObject({page: 'findings', detail: false});
		expect(following(opened, {type: 'open'})).toMatchObject({detail: false});
	});

	it('scrolls a finding that is open', () => {
		expect(following(live, page('findings'), {type: 'open'}, select(1), select(1), select(-1)).scroll).toBe(1);
	});

	it('opens nothing where nothing was found', () => {
		const none = following(live, {type: 'facts', gloves: [{channels: [], findings: [], t: 0}], offered: false});
		expect(following(none, page('findings'), {type: 'open'}).detail).toBe(false);
	});

	it('adds channels to the trend, at most three besides the selected one', () => {
		const pinned = following(live, page('trend'), select(1), {type: 'open'}, select(1), {type: 'open'});
		expect(pinned.pinned).toEqual(['thumb', 'index']);
		expect(following(pinned, {type: 'open'}).pinned).toEqual(['thumb']);
	});
});

describe('time', () => {
	it('holds and goes on', () => {
		expect(following(live, {type: 'hold'}).held).toBe(true);
		expect(following(live, {type: 'hold'}, {type: 'hold'}).held).toBe(false);
	});

	it('goes back in the trend of a live glove, and follows again at its end', () => {
		const back = following(live, {type: 'travel', by: -1});
		expect(back.trendEnd).toBe(95);
		expect(following(back, {type: 'travel', by: 1}).trendEnd).toBeNull();
		expect(following(live, ...Array<Message>(30).fill({type: 'travel', by: -1})).trendEnd).toBe(20);
		expect(following(live, {type: 'edge', edge: 'start'}, {type: 'edge', edge: 'end'}).trendEnd).toBeNull();
	});

	it('leaves a replay’s trend to follow its position', () => {
		expect(following(replay, {type: 'travel', by: -1}).trendEnd).toBeNull();
	});

	it('zooms in steps and stops at the ends', () => {
		expect(following(live, {type: 'zoom', by: 1}).trendSeconds).toBe(10);
		expect(following(live, {type: 'zoom', by: -1}).trendSeconds).toBe(60);
		expect(following(live, ...Array<Message>(30).fill({type: 'zoom', by: 1})).trendSeconds).toBe(0.5);
	});

	it('holds a replay that is stepped or sent to a place, and one that has played out', () => {
		expect(following(replay, {type: 'step', by: 1}).held).toBe(true);
		expect(following(replay, {type: 'to-finding', by: 1}).held).toBe(true);
		expect(following(replay, {type: 'played-out'}).held).toBe(true);
		expect(following(live, {type: 'step', by: 1}).held).toBe(false);
	});
});

describe('notes', () => {
	it('are typed, corrected, and gone once kept or dropped', () => {
		const typed = following(
			live,
			{type: 'entry', what: 'mark'},
			{type: 'entry-typed', text: 'reé'},
			{type: 'entry-erase'},
			{type: 'entry-typed', text: 'el'},
		);
		expect(typed.entry).toEqual({what: 'mark', text: 'reel'});
		expect(following(typed, {type: 'entry-keep'}).entry).toBeNull();
		expect(following(typed, {type: 'entry-drop'}).entry).toBeNull();
	});

	it('don’t grow without end', () => {
		expect(
			following(live, {type: 'entry', what: 'mark'}, {type: 'entry-typed', text: 'x'.repeat(999)}).entry?.text,
		).toHaveLength(200);
	});

	it('need the note’s line to be open', () => {
		expect(following(live, {type: 'entry-typed', text: 'x'}).entry).toBeNull();
	});
});

describe('two gloves', () => {
	it('take turns, each with selections of its own', () => {
		const two = initialViewState({mode: 'live', gloves: 2});
		expect(following(two, {type: 'other-glove'}).focus).toBe(1);
		expect(
			following({...two, finding: 'x/', detail: true}, {type: 'other-glove'}, {type: 'other-glove'}),
		).toMatchObject({
			focus: 0,
			finding: null,
			detail: false,
		});
	});
});

it('leaves the state it was given untouched', () => {
	const frozen = Object.freeze({...live});
	for (const message of [
		{type: 'hold'},
		{type: 'entry', what: 'mark'},
		select(1),
		page('trend'),
		{type: 'loop'},
	] as Message[]) {
		expect(reduceView(frozen, message).view).not.toBe(frozen);
	}
});

describe('effects', () => {
	it('come with the view, once, and say what is to be done', () => {
		expect(effectsOf(replay, {type: 'travel', by: -1})).toEqual([{do: 'seek', by: -5}]);
		expect(effectsOf(replay, {type: 'travel-far', by: 1})).toEqual([{do: 'seek-share', by: 0.1}]);
		expect(effectsOf(live, {type: 'travel', by: -1})).toEqual([]);
		expect(effectsOf(live, {type: 'quit'})).toEqual([{do: 'leave', interrupted: false}]);
		expect(effectsOf(live, {type: 'interrupt'})).toEqual([{do: 'leave', interrupted: true}]);
	});

	it('carry what was typed as a mark or as a time, and nothing where that is empty', () => {
		const typed = (what: 'mark' | 'time', text: string) =>
			effectsOf({...live, entry: {what, text}}, {type: 'entry-keep'});
		expect(typed('mark', ' reel 3 ')).toEqual([{do: 'mark', text: 'reel 3'}]);
		expect(typed('time', '0:30')).toEqual([{do: 'go-to', text: '0:30'}]);
		expect(typed('mark', '  ')).toEqual([]);
	});

	it('forget the selected channel, or all, and ask for a selection where there is none', () => {
		expect(effectsOf({...live, channel: 'ring'}, {type: 'forget', all: false})).toEqual([
			{do: 'forget', channel: 'ring'},
		]);
		expect(effectsOf(live, {type: 'forget', all: true})).toEqual([{do: 'forget', channel: null}]);
		expect(effectsOf(live, {type: 'forget', all: false})).toMatchObject([{do: 'say'}]);
	});

	it('take what moved for what was asked only where that is offered', () => {
		const bench: ViewState = {...live, page: 'bench', guided: true};
		expect(effectsOf({...bench, offered: true}, {type: 'open'})).toEqual([{do: 'guide', what: 'take'}]);
		expect(effectsOf(bench, {type: 'open'})).toEqual([]);
	});

	it('switch the bell and say what it means', () => {
		const {view, effects} = reduceView(live, {type: 'bell'});
		expect(view.bell).toBe(true);
		expect(effects).toMatchObject([{do: 'say', text: expect.stringContaining('one = proven or step done')}]);
	});
});

describe('a key that does nothing', () => {
	it('says so, whatever the reason', () => {
		const said = (message: Message, state = live) => reduceKey(state, message, 'j').effects;
		expect(said({type: 'no-use', key: 'j', where: 'anywhere'})).toEqual([
			{do: 'say', text: 'j does nothing here: ? lists the keys.'},
		]);
		expect(said({type: 'no-use', key: 'j', where: 'replay'})).toMatchObject([
			{text: expect.stringContaining('on a live glove')},
		]);
		expect(said(page('overview'))).toMatchObject([{text: expect.stringContaining('does nothing here')}]);
		expect(said({type: 'back'})).toMatchObject([{text: expect.stringContaining('does nothing here')}]);
		expect(said(page('trend'))).toEqual([]);
		expect(said({type: 'quit'})).toEqual([{do: 'leave', interrupted: false}]);
	});
});
