/** A port of a network address. */
export const portNumber = {
	kind: 'whole',
	value: 'PORT',
	least: 0,
	most: 65_535,
	takes: 'a port number, 0 for any free one',
} as const;

/** A moment of what is read, counted from its start. */
export const moment = {kind: 'duration', value: 'TIME', takes: 'a time such as 90s or 2m'} as const;
