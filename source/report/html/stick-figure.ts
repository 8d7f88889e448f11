import type {SessionRun} from '../../session/run-session.ts';
import type {ChannelView} from '../../session/snapshot.ts';
import {figureText, secondsText} from '../../text/number-text.ts';
import {html, type Markup} from './markup.ts';
import {stickChart} from './stick-chart.ts';

/** The path is drawn from the finest history there is. */
const pathSeconds = 100;
const pathBuckets = 2000;

/** Path, rest point and reach of the thumb stick; nothing where there is none. `title` stands above it, if any. */
export function stickFigure({session, snapshot}: SessionRun, title?: string): Markup | null {
	const {stick, channels, t} = snapshot;
	const x = channels.find(({name}) => name === stick?.x);
	const y = channels.find(({name}) => name === stick?.y);
	if (!stick || !x || !y || !(t > 0)) return null;
	const from = Math.max(0, t - pathSeconds);
	const trend = ({index}: ChannelView) => session.trend(index, from, t, pathBuckets);
	const rest =
		stick.restX === null || stick.restY === null
			? 'no rest seen'
			: `rests at ${figureText(stick.restX)}, ${figureText(stick.restY)} (dashed cross)`;
	const reach = Math.min(...stick.reach);
	return html`<figure>${title !== undefined && html`<h3>${title}</h3>`}${stickChart(stick, trend(x), trend(y), x.fullScale ?? Math.max(x.max, y.max))}<figcaption>Path of the last ${secondsText(t - from)}; ${rest}. Dashed outline: farthest reach in eight directions over the whole session, shortest ${Math.round(100 * reach)} % of half scale${stick.deadZone !== null && `; dead zone that covers every release: ${figureText(stick.deadZone)} counts`}.</figcaption></figure>`;
}
