import {mountCautions, mountLimits} from '../../mount/mount-cautions.ts';
import type {MountPageFacts} from '../../mount/mount-facts.ts';
import {figureText, fixedText, secondsText} from '../../text/number-text.ts';
import {tool} from '../../version.ts';
import {publicName} from '../public-name.ts';
import {cautionsSection, nextSection} from './findings-section.ts';
import {html, type Markup} from './markup.ts';
import {pageText, section, verdictHeading} from './page-shell.ts';
import {textTable} from './text-table.ts';

/** What `mount --json` printed as one self-contained page. */
export function mountPage(facts: MountPageFacts): string {
	const {verdict, sentence, source, read, steps, turned, missing, problems, hand} = facts;
	const word = verdict.toUpperCase();
	const name = publicName(source.name);
	return pageText(
		`${word}: tracker on the hand, ${name}`,
		html`<header>
${verdictHeading(verdict, word, sentence)}
<p class="soft">How the tracker sits on the ${hand} hand, from ${figureText(read.rows)} poses in ${secondsText(read.seconds)} of ${name}, with ${tool.name} ${tool.version}</p>
</header>
${nextSection([...problems.map(text => html`<li>${text}</li>`), ...missing.map(({what, move}) => html`<li>${what}: ${move}.</li>`)])}
${section('Tracker to hand', 'there', offsetPart(facts.trackerToHand, facts.uncertainty.positionMm95, facts.uncertainty.rotationDeg95))}
${section('Hand to tracker', 'back', offsetPart(facts.handToTracker, facts.uncertainty.handToTrackerMm95, facts.uncertainty.rotationDeg95))}
${section(
	'Turned on the pivot',
	'turned',
	turned.length > 0
		? textTable(
				'Turned on the pivot',
				['', 'to each side'],
				turned.map(({about, degrees}) => [about, `${fixedText(degrees, 0)}°`]),
			)
		: null,
)}
${section(
	'Steps',
	'steps',
	steps.length > 0
		? textTable(
				'Steps',
				['step', 'from', 'to'],
				steps.map(step => [step.name, secondsText(step.from), secondsText(step.to)]),
			)
		: null,
)}
${section('How the log was read', 'read', html`<ul><li>positions in ${read.unit}</li><li>quaternion ${read.quaternionOrder}, ${read.direction.replaceAll('-', ' ')}</li>${read.upAxis && html`<li>up is ${read.upAxis}</li>`}${read.notes.map(note => html`<li>${note}</li>`)}</ul>`)}
${cautionsSection([...mountCautions, mountLimits])}`,
	);
}

function offsetPart(
	{positionMm, quaternion}: MountPageFacts['trackerToHand'],
	position95: readonly number[] | null,
	rotation95: number | null,
): Markup {
	const places =
		positionMm === null
			? [['position', 'not known', '', '']]
			: [
					['position, mm', ...positionMm.map(value => fixedText(value, 1))],
					...(position95 ? [['± in 95 of 100 cases', ...position95.map(value => fixedText(value, 1))]] : []),
				];
	const turn = quaternion && [quaternion.w, quaternion.x, quaternion.y, quaternion.z].map(value => fixedText(value, 5));
	return html`${textTable('Position', ['', 'x', 'y', 'z'], places)}${turn ? textTable('Rotation', ['', 'w', 'x', 'y', 'z'], [['quaternion', ...turn]]) : html`<p>Rotation: not known.</p>`}${turn && rotation95 !== null && html`<p>The rotation is right within ${fixedText(rotation95, 1)}° in 95 of 100 cases.</p>`}`;
}
