/** Where a step of the routine can hurt. Common practice, no source. */
export const mountCautions: readonly string[] = [
	'Straps and cords taut over fingers: loosen them at numbness or tingling, and do not go on.',
	'Turn the hand in clear space, with nothing and nobody in its way; wear no headset while you look for the dimple.',
	'A dimple is a shallow hollow in wood or plastic: nothing sharp, and press lightly.',
];

/** What the numbers do not hold. Common practice, no source. */
export const mountLimits = 'Skin slides under a strap: 2 to 4° is what straps allow, however small the ± is.';

/** The same in a row of the screen. */
export const mountCautionRow = 'Loosen straps and cords at numbness or tingling; clear space; nothing sharp.';
