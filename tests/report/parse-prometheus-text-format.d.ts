declare module 'parse-prometheus-text-format' {
	/** Metric families of a text; the package brings no types. */
	export default function parse(text: string): readonly {
		readonly name: string;
		readonly help: string;
		readonly type: string;
		readonly metrics: readonly {readonly value: string; readonly labels?: Readonly<Record<string, string>>}[];
	}[];
}
