declare module 'asciichart' {
	type PlotConfig = {
		min?: number;
		max?: number;
		height?: number;
		offset?: number;
		padding?: string;
		colors?: string[];
		symbols?: string[];
		format?: (value: number, index: number) => string;
	};
	const asciichart: {plot(series: readonly number[] | readonly (readonly number[])[], config?: PlotConfig): string};
	export default asciichart;
}
