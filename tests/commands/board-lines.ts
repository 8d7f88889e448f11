/** Lines of a glove with a counter, as a board prints them. */
export const boardLines: readonly string[] = Array.from({length: 300}, (_, i) => {
	const bend = Math.round(300 + 200 * Math.sin(i / 20));
	return `${bend},${bend + 11},${bend + 5},${bend + 40},${bend + 23},${511 + ((i * i) % 3)},${510 + ((i * i) % 5)},1,0,${i}`;
});
