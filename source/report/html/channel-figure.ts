import type {SessionRun} from '../../session/run-session.ts';
import type {ChannelView} from '../../session/snapshot.ts';
import {countText, figureText} from '../../text/number-text.ts';
import {seenRange} from '../finding-text.ts';
import {html, type Markup} from './markup.ts';
import {type NumberedFinding, trendChart} from './trend-chart.ts';

/** Columns of a trend: one per unit of a chart's width. */
const mostBuckets = 320;

/**
 * One channel over the whole session, under `title`; nothing for counters, clocks, and a session without time. `framed`
 * stretches, in seconds, are drawn as dashed frames.
 */
export function channelFigure(
	run: SessionRun,
	channel: ChannelView,
	findings: readonly NumberedFinding[],
	title = `${channel.name}: ${channel.state}`,
	framed: readonly {readonly from: number; readonly to: number}[] = [],
): Markup | null {
	const {session, snapshot} = run;
	if (channel.role === 'counter' || channel.role === 'clock' || !(snapshot.t > 0)) return null;
	const buckets = Math.max(2, Math.min(mostBuckets, Math.floor(snapshot.link.frames / 2)));
	const trend = session.trend(channel.index, 0, snapshot.t, buckets);
	const seen = Math.max(1, ...trend.map(({high}) => high).filter(Number.isFinite));
	const highest = channel.fullScale === null ? seen : Math.max(channel.fullScale, channel.usableHigh ?? 0);
	const own = findings.filter(({finding}) => finding.channel === channel.name);
	const hatched = own.map(({number, finding}) => (number === null ? finding.code : `finding ${number}`));
	return html`<figure><h3>${title}</h3>${trendChart(
		channel.name,
		trend,
		highest,
		snapshot.t,
		own,
		framed,
	)}<figcaption>${rangeText(channel)}${hatched.length > 0 && `; hatched: ${hatched.join(', ')}`}</figcaption></figure>`;
}

function rangeText(channel: ChannelView): string {
	const {role, button, restNoise} = channel;
	if (role === 'button') return countText(button?.presses ?? 0, 'press', 'presses');
	const [low, high] = seenRange(channel);
	if (Number.isNaN(low)) return 'no reading';
	const noise = restNoise === null ? '' : `, noise at rest ${figureText(restNoise)} rms`;
	return `${figureText(low)} to ${figureText(high)}${noise}`;
}
