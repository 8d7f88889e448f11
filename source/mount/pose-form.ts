/** Units of length a log may have its positions in, and how many mm one is. */
export const unitMm = {m: 1000, cm: 10, mm: 1} as const;
export type LengthUnit = keyof typeof unitMm;
export const lengthUnits = ['m', 'cm', 'mm'] as const;

export const orders = ['wxyz', 'xyzw'] as const;

/** What a quaternion takes to where: the tracker's axes to those of the space, or the other way round. */
export const directions = ['tracker-to-space', 'space-to-tracker'] as const;
export type Direction = (typeof directions)[number];

/** Which way is up in the space. */
export const upAxes = ['x', 'y', 'z', '-x', '-y', '-z'] as const;
export type UpAxis = (typeof upAxes)[number];

export const hands = ['left', 'right'] as const;
export type Hand = (typeof hands)[number];
