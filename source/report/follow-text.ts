import {plainName} from '../faults/plain-name.ts';
import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';
import {figureText, fixedText} from '../text/number-text.ts';
import {placeText} from './finding-text.ts';
import type {FollowEvent} from './follow-events.ts';

/** An event as a line for people; the link's line comes every ten seconds only. Nothing for figures that changed. */
export function followText(event: FollowEvent, ascii: boolean): string[] {
	const text = sentence(event);
	if (text === undefined) return [];
	const line = `${fixedText(event.t, 1).padStart(7)} s  ${escapeText(text)}`;
	const more =
		event.event === 'end' && event.notJudged !== '' ? [`${' '.repeat(11)}${escapeText(event.notJudged)}`] : [];
	return [line, ...more].map(each => (ascii ? asciiText(each) : each));
}

function sentence(event: FollowEvent): string | undefined {
	switch (event.event) {
		case 'start':
			return `reading ${event.source.name}`;
		case 'layout':
			return `layout: ${event.layout.channels.map(({name}) => name).join(', ')}`;
		case 'finding-opened':
			return `${placeText(event.finding)}: ${event.finding.code} (${event.finding.status}). ${event.finding.summary}`;
		case 'finding-closed':
			return `${placeText(event.finding)}: ${plainName(event.finding.code)} is over`;
		case 'finding-withdrawn':
			return `${placeText(event)}: ${plainName(event.code)} is withdrawn: it turned out to be something else`;
		case 'link': {
			if (Math.round(event.t) % 10 !== 0) return undefined;
			const {frames, framesPerSecond, badLines} = event.link;
			return `link: ${figureText(frames)} frames, ${figureText(framesPerSecond)}/s, ${figureText(badLines)} bad lines`;
		}

		case 'source-event':
			return `${event.what}${event.detail ? ` (${event.detail})` : ''}`;
		case 'mark':
			return `mark "${event.mark}"`;
		case 'end':
			return `end: ${event.verdict}, ${event.findings} ${event.findings === 1 ? 'finding' : 'findings'}`;
		default:
			return undefined;
	}
}
