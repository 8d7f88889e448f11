import {scaleLinear} from 'd3-scale';
import {curveLinearClosed, line} from 'd3-shape';
import {itemAt} from '../../item-at.ts';
import type {StickView, TrendBucket} from '../../session/snapshot.ts';
import {svg, unit} from './axes.ts';
import {html, type Markup} from './markup.ts';

const middleOf = ({low, high}: TrendBucket) => (low + high) / 2;

const size = 220;
const margin = 16;

/** Steps longer than this share of full scale between two buckets are not joined: nothing is known of the way. */
const longestStep = 0.5;

/** Shorter steps than this share of full scale would not be seen. */
const smallestStep = 0.004;

/** Leaves out points that lie next to the last one kept: a stick at rest is one point. */
function thinned(points: readonly [number, number][], step: number): [number, number][] {
	const kept: [number, number][] = [];
	for (const point of points) {
		const last = kept[kept.length - 1];
		if (!last || !(Math.hypot(point[0] - last[0], point[1] - last[1]) < step)) kept.push(point);
	}

	return kept;
}

/**
 * Where the stick has been lately, how far it reached in eight directions, and where it rests. `x` and `y` are the
 * histories of its axes over the same buckets; `fullScale` in counts.
 */
export function stickChart(
	stick: StickView,
	x: readonly TrendBucket[],
	y: readonly TrendBucket[],
	fullScale: number,
): Markup {
	const across = scaleLinear()
		.domain([0, fullScale])
		.range([margin, size - margin]);
	const upright = scaleLinear()
		.domain([0, fullScale])
		.range([size - margin, margin]);
	const points = thinned(
		x.map((bucket, i): [number, number] => [middleOf(bucket), middleOf(itemAt(y, i))]),
		fullScale * smallestStep,
	);
	const path = line<[number, number]>()
		.defined(([px, py], i) => {
			const [beforeX, beforeY] = points[i - 1] ?? [px, py];
			return !Number.isNaN(px + py) && !(Math.hypot(px - beforeX, py - beforeY) > longestStep * fullScale);
		})
		.x(([px]) => across(px))
		.y(([, py]) => upright(py))
		.digits(1);
	const outline = line<number>()
		.x((reach, i) => across((fullScale / 2) * (1 + reach * Math.cos((i * Math.PI) / 4))))
		.y((reach, i) => upright((fullScale / 2) * (1 + reach * Math.sin((i * Math.PI) / 4))))
		.curve(curveLinearClosed)
		.digits(1);
	const {restX, restY} = stick;
	const middle = size / 2;
	return svg(
		size,
		'Path and reach of the thumb stick',
		[
			html`<rect class="field" x="${margin}" y="${margin}" width="${size - 2 * margin}" height="${size - 2 * margin}"/>`,
			html`<path class="grid" d="M${middle},${margin}V${size - margin}M${margin},${middle}H${size - margin}"/>`,
			html`<path class="reach" d="${outline(stick.reach) ?? ''}"/>`,
			html`<path class="line thin" d="${path(points) ?? ''}"/>`,
			...(restX !== null && restY !== null
				? [
						html`<path class="moment" d="M${unit(across(restX) - 6)},${unit(upright(restY))}h12M${unit(across(restX))},${unit(upright(restY) - 6)}v12"/>`,
					]
				: []),
			html`<text class="small end" x="${size - margin}" y="${size - 3}">${stick.x}</text>`,
			html`<text class="small" x="${margin}" y="${margin - 4}">${stick.y}</text>`,
		],
		size,
	);
}
