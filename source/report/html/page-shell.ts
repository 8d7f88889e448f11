import {createHash} from 'node:crypto';
import type {Verdict} from '../../session/snapshot.ts';
import {html, Markup} from './markup.ts';
import {pageStyle} from './style.ts';

/** Both values that a style sheet's own element needs: its text, and the hash by which the policy lets it in. */
const styleHash = createHash('sha256').update(pageStyle).digest('base64');
const policy = `default-src 'none'; style-src 'sha256-${styleHash}'; base-uri 'none'; form-action 'none'`;

/** What stretches with a finding are filled with in charts. */
export const hatchPattern = html`<pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse"><path class="hatch" d="M-1,1l2,-2M0,6l6,-6M5,7l2,-2"/></pattern>`;

/**
 * A self-contained page: no scripts, nothing loaded from elsewhere, and a Content-Security-Policy that would stop both.
 * What is put in comes from `html`, which escapes.
 */
export function pageText(title: string, body: Markup): string {
	return html`${new Markup('<!doctype html>')}
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>${title}</title>
<style>${new Markup(pageStyle)}</style>
</head>
<body>
<svg class="hidden" aria-hidden="true"><defs>${hatchPattern}</defs></svg>
<main>
${body}
</main>
</body>
</html>
`.text;
}

/** A part of the page under a heading; nothing where all its content is nothing. */
export function section(title: string, id: string, ...content: (Markup | null)[]): Markup | null {
	return content.some(part => part !== null) ? html`<section><h2 id="${id}">${title}</h2>${content}</section>` : null;
}

/** The verdict as it stands at the head of a page: a sign and a word in a box of the verdict's colour, then a sentence. */
export function verdictHeading(verdict: Verdict, word: string, sentence: string): Markup {
	const sign = {pass: '✓', unproven: '○', attention: '!', fail: '✗'}[verdict];
	return html`<h1><span class="verdict ${verdict}">${sign} ${word}</span> ${capitalized(sentence)}</h1>`;
}

export function capitalized(text: string): string {
	return text.charAt(0).toUpperCase() + text.slice(1);
}
