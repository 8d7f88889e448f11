// Formulas with sources and worked examples: docs/plan.md.

/** What a cell gives before its voltage is too low for a regulator, as a share of what is printed on it (common practice). */
const usableShare = 0.8;

/** Nominal volts of the cell in a power bank, of its socket, and the share its step-up converter passes on (common practice). */
const powerBank = {cellVolts: 3.7, socketVolts: 5, efficiency: 0.85} as const;

/** Current through pots that hang side by side on one supply, mA. Ohm. */
export function potsMilliamperes(volts: number, potsOhms: readonly number[]): number {
	return potsOhms.reduce((sum, ohms) => sum + (volts / ohms) * 1000, 0);
}

/** Hours a bare cell lasts. */
export function batteryHours(batteryMah: number, currentMa: number): number {
	return (batteryMah * usableShare) / currentMa;
}

/** Hours a power bank lasts that keeps its output on. What is printed on it counts at the cell, not at the socket. */
export function powerBankHours(batteryMah: number, currentMa: number): number {
	const {cellVolts, socketVolts, efficiency} = powerBank;
	return (batteryMah * (cellVolts / socketVolts) * efficiency) / currentMa;
}
