import {expect, it} from 'vitest';
import {faults} from '../../source/faults/registry.ts';
import {asciiText} from '../../source/text/ascii-text.ts';

it('spells out the signs of the trade', () => {
	expect(asciiText('10 kΩ ±20 %, 2.5 µs at 90° — L = r·θ')).toBe('10 kohm +/-20 %, 2.5 us at 90 deg - L = r*theta');
	expect(asciiText('once in 8¹⁰ (check-values D5.4), 3² < 10⁻³')).toBe('once in 8^10 (check-values D5.4), 3^2 < 10^-3');
});

it('knows every sign the catalogue uses', () => {
	const catalogue = JSON.stringify(faults);
	expect(catalogue).toMatch(/[^ -~]/);
	expect(asciiText(catalogue.replaceAll('?', ''))).toMatch(/^[ -~]*$/);
	expect(asciiText(catalogue.replaceAll('?', ''))).not.toContain('?');
});
