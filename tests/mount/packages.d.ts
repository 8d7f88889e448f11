declare module 'jstat' {
	export const jStat: {readonly centralF: {inv(share: number, above: number, below: number): number}};
}
