import type {LeftOut} from '../../../stream/intake.ts';
import {countNumbers, LineChange, type LineStage, type StageFinder, shareOf} from './line-stage.ts';

/**
 * Soft line breaks and encoded bytes of mail: a line that ends in `=` goes on in the next, `=2C` is a comma.
 * Source: RFC 2045 section 6.7 (quoted-printable).
 */
class QuotedPrintable implements LineStage {
	#lines = 0;
	#held = '';

	take(line: string, pass: (line: string) => void): void {
		if (line.endsWith('=')) {
			this.#lines++;
			if (this.#held.length < longestJoined) this.#held += line.slice(0, -1);
			return;
		}

		const whole = this.#held + line;
		this.#held = '';
		if (!encoded.test(whole)) {
			pass(whole);
			return;
		}

		this.#lines++;
		pass(whole.replaceAll(/=([0-9A-F]{2})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16))));
	}

	end(pass: (line: string) => void): void {
		if (this.#held !== '') pass(this.#held);
		this.#held = '';
	}

	get told(): LeftOut | undefined {
		return this.#lines === 0 ? undefined : {what: "mail's line breaks and codes", lines: this.#lines};
	}
}

const longestJoined = 8192;
/** What readings are written with, encoded: no `=`, separator, sign, bracket or blank needs it, but mailers do it. */
const encoded = /=(?:3D|2C|20|09|0D|0A|C2|C3|E2|B0|3B|7C|B5|2E)/;

/** A label and its reading, `thumb=2012`: no code of a blank and `12`. */
const keyed = /[\w\])]=\d\d/;

/** Lines of quoted-printable are at most 76 characters long; those with a soft break end in `=` behind something. */
export const findQuotedPrintable: StageFinder = sample => {
	const soft = sample.filter(line => line.length <= 76 && line.length >= 40 && /[^=\s]=$/.test(line)).length;
	const hard = sample.filter(line => encoded.test(line)).length;
	if (soft < 2 && hard < Math.max(3, sample.length / 10)) return undefined;
	// Where a mailer has been at work every `=` of the log itself is `=3D`.
	if (sample.some(line => keyed.test(line)) && !sample.some(line => line.includes('=3D'))) return undefined;
	// `a=` at the end of every line is no break: then nothing but breaks would be there.
	return soft < sample.length ? new QuotedPrintable() : undefined;
};

/** The marks of a quoted mail in front of lines, however deep: `> > 512,498`. */
export const findQuoteMarks: StageFinder = sample => {
	const mark = /^(?: ?>)+ ?(?=.*\d)/;
	return shareOf(sample, line => mark.test(line)) < 0.5
		? undefined
		: new LineChange('quote marks', line => line.replace(/^(?: ?>)+ ?/, ''));
};

/** The head of a mail, and what mailers write over a quotation. */
export const findMailHead: StageFinder = sample => {
	const head =
		/^(?:From|To|Cc|Subject|Date|Sent|Message-ID|MIME-Version|Content-[\w-]+|Reply-To|Von|An|Betreff|Datum): /i;
	const heads = sample.slice(0, 60).filter(line => head.test(line) && countNumbers(line) < 12).length;
	if (heads < 2) return undefined;
	return new LineChange('head of the mail', line => (head.test(line) ? null : line));
};
