/** A log of a glove that lies still, for what asks nothing of a hand. */
export const stillLog = Array.from({length: 600}, (_, n) => `${500 + (n % 7)},400,${512 + (n % 3)},0,510\r\n`).join('');
