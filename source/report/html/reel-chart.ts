import {scaleLinear} from 'd3-scale';
import type {BringUpResult} from '../../bringup/bring-up-result.ts';
import {figureText} from '../../text/number-text.ts';
import {bottomAxis, chartWidth, svg, unit} from './axes.ts';
import {html, type Markup} from './markup.ts';

const rowHeight = 34;
const frame = {left: 78, right: chartWidth - 12, top: 4};

/** Signs of an acceptance, so that it is seen before it is read. */
export const acceptanceSigns = {pass: '✓', fail: '✗', open: '?'} as const;

/**
 * Every finger's range with the hand on full scale: the way a bend goes as an arrow, the verdict as a sign. Nothing
 * where there is no finger.
 */
export function reelChart({reels, acceptance, fullScale}: BringUpResult): Markup | null {
	if (reels.length === 0) return null;
	const bottom = frame.top + reels.length * rowHeight;
	const x = scaleLinear().domain([0, fullScale]).range([frame.left, frame.right]).clamp(true);
	const rows = reels.map(({name, low, high, direction}, row) => {
		const y = frame.top + row * rowHeight;
		const verdict = acceptance.find(each => each.name === name)?.verdict ?? 'open';
		const field = html`<rect class="field" x="${frame.left}" y="${y + 8}" width="${frame.right - frame.left}" height="16"/>`;
		const label = html`<text x="2" y="${y + 20}">${acceptanceSigns[verdict]}</text><text class="strong" x="16" y="${y + 20}">${name.slice(0, 9)}</text>`;
		if (low === null || high === null) {
			return html`${label}${field}<text class="small" x="${frame.left + 4}" y="${y + 20}">no movement of the hand seen</text>`;
		}

		const [left, right] = [x(low), x(high)];
		const look = verdict === 'fail' ? 'bar faulty' : 'bar';
		return html`${label}${field}<rect class="${look}" x="${unit(left)}" y="${y + 8}" width="${unit(Math.max(2, right - left))}" height="16"/>${bend(direction, left, right, y + 29)}`;
	});
	const labels = x.ticks(4).map(counts => ({at: x(counts), text: figureText(counts, 5)}));
	return svg(bottom + 20, 'Range of every finger, and which way its reading goes as it bends', [
		...rows,
		bottomAxis(labels, {...frame, bottom}),
	]);
}

/** An arrow under the range, from the open hand's reading to the fist's. */
function bend(direction: -1 | 0 | 1, left: number, right: number, y: number): Markup | null {
	if (direction === 0) return null;
	const [from, to] = direction > 0 ? [left, right] : [right, left];
	return html`<path d="M${unit(from)},${y}H${unit(to)}m${unit(-4 * direction)},-3l${unit(4 * direction)},3l${unit(-4 * direction)},3"/>`;
}
