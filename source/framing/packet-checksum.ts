import crc16 from 'crc/calculators/crc16';
import crc16ccitt from 'crc/calculators/crc16ccitt';
import crc16kermit from 'crc/calculators/crc16kermit';
import crc16modbus from 'crc/calculators/crc16modbus';
import crc16xmodem from 'crc/calculators/crc16xmodem';

/** The CRC-16 variants tried, by the names of the usual catalogue of parametrised CRCs (check-values F9 to F11). */
export const checksums: Readonly<Record<string, (bytes: Uint8Array) => number>> = {
	'crc-16/arc': bytes => crc16(bytes),
	'crc-16/modbus': bytes => crc16modbus(bytes),
	'crc-16/xmodem': bytes => crc16xmodem(bytes),
	'crc-16/kermit': bytes => crc16kermit(bytes),
	'crc-16/ibm-3740': bytes => crc16ccitt(bytes),
};

/** A CRC-16 as it stands behind a packet's values. */
export type PacketChecksum = {
	readonly name: string;
	/** Its low byte comes first, like the values'; else the high byte. */
	readonly littleEndian: boolean;
};

/** Whether a packet ends in this CRC-16 of all that precedes it. */
export function holdsChecksum(packet: Uint8Array, {name, littleEndian}: PacketChecksum): boolean {
	const {length} = packet;
	if (length < 3) return false;
	const first = packet[length - 2];
	const second = packet[length - 1];
	const stored = littleEndian ? first | (second << 8) : (first << 8) | second;
	return checksums[name](packet.subarray(0, length - 2)) === stored;
}

/** The CRC-16 in which all of the packets end; undefined where there is none, or where all packets are alike. */
export function findChecksum(packets: readonly Uint8Array[]): PacketChecksum | undefined {
	for (const name of Object.keys(checksums)) {
		for (const littleEndian of [true, false]) {
			const checksum = {name, littleEndian};
			if (packets.length > 0 && packets.every(packet => holdsChecksum(packet, checksum))) return checksum;
		}
	}

	return undefined;
}
