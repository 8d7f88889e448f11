/** Magic numbers of files that are no capture, though their bytes could be read as one. */
type Magic = {readonly kind: string; readonly at?: number; readonly bytes: string};

/** Public file format descriptions; the bytes are written from memory of them, as latin-1. */
const magics: readonly Magic[] = [
	{kind: 'a PNG picture', bytes: '\x89PNG\r\n\x1A\n'},
	{kind: 'a JPEG picture', bytes: '\xFF\xD8\xFF'},
	{kind: 'a GIF picture', bytes: 'GIF8'},
	{kind: 'a TIFF picture', bytes: 'II*\0'},
	{kind: 'a TIFF picture', bytes: 'MM\0*'},
	{kind: 'a PDF document', bytes: '%PDF-'},
	{kind: 'a ZIP archive (or an office document)', bytes: 'PK\x03\x04'},
	{kind: 'an empty ZIP archive', bytes: 'PK\x05\x06'},
	{kind: 'an office document of the old kind', bytes: '\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1'},
	{kind: 'a program (ELF)', bytes: '\x7FELF'},
	{kind: 'a program (Mach-O)', bytes: '\xCF\xFA\xED\xFE'},
	{kind: 'a program (Mach-O)', bytes: '\xCA\xFE\xBA\xBE'},
	{kind: 'a WebAssembly module', bytes: '\0asm'},
	{kind: 'a network capture (pcap)', bytes: '\xD4\xC3\xB2\xA1'},
	{kind: 'a network capture (pcap)', bytes: '\xA1\xB2\xC3\xD4'},
	{kind: 'a network capture (pcap)', bytes: '\x4D\x3C\xB2\xA1'},
	{kind: 'a network capture (pcap)', bytes: '\xA1\xB2\x3C\x4D'},
	{kind: 'a network capture (pcapng)', bytes: '\x0A\x0D\x0D\x0A'},
	{kind: 'a 7-Zip archive', bytes: '7z\xBC\xAF\x27\x1C'},
	{kind: 'an xz archive', bytes: '\xFD7zXZ\0'},
	{kind: 'a bzip2 archive', bytes: 'BZh'},
	{kind: 'a Zstandard archive', bytes: '\x28\xB5\x2F\xFD'},
	{kind: 'a RAR archive', bytes: 'Rar!\x1A\x07'},
	{kind: 'a tar archive', at: 257, bytes: 'ustar'},
	{kind: 'a SQLite database', bytes: 'SQLite format 3\0'},
	{kind: 'a sound or video file (RIFF)', bytes: 'RIFF'},
	{kind: 'a sound file (MP3)', bytes: 'ID3'},
	{kind: 'a sound file (Ogg)', bytes: 'OggS'},
	{kind: 'a sound file (FLAC)', bytes: 'fLaC'},
	{kind: 'a video file (MP4)', at: 4, bytes: 'ftyp'},
	{kind: 'a video file (Matroska)', bytes: '\x1A\x45\xDF\xA3'},
	{kind: 'a firmware image (UF2)', bytes: 'UF2\n'},
];

/**
 * What a file clearly is, if it is no capture of a serial stream; undefined for text and for bytes that are nothing
 * known, since a capture at the wrong baud rate looks like that.
 *
 * @param start The first bytes, 512 or more where there are as many.
 */
export function foreignFileKind(start: Uint8Array): string | undefined {
	const text = Buffer.from(start.buffer, start.byteOffset, Math.min(start.byteLength, 1024)).toString('latin1');
	const magic = magics.find(({at = 0, bytes}) => text.startsWith(bytes, at));
	if (magic) return magic.kind;
	// Two letters alone could be the start of a line.
	if (text.startsWith('MZ') && text.includes('PE\0\0')) return 'a program (PE)';
	return undefined;
}
