// Formulas with sources and worked examples: docs/plan.md.

/** Share of the track a spool should use: room at both ends for setting and for other hands (common practice). */
export const usualTrackShare = 0.8;

/**
 * Cord pulled by bending a finger, mm: the sum of radius times angle over its joints, radii in mm (the cord's distance
 * from each axis), angles in degrees. Source: geometry; one radius per joint after Landsmeer 1961.
 */
export function cordTravelMm(jointRadiiMm: readonly number[], jointAnglesDeg: readonly number[]): number {
	return jointRadiiMm.reduce((sum, radius, joint) => sum + (radius * (jointAnglesDeg[joint] ?? 0) * Math.PI) / 180, 0);
}

/** Angle by which a spool turns for a cord travel, degrees. Both lengths in mm. */
export function spoolAngleDeg(travelMm: number, diameterMm: number): number {
	return (travelMm / (Math.PI * diameterMm)) * 360;
}

/** Whole and broken turns of the spool for a cord travel. */
export function spoolTurns(travelMm: number, diameterMm: number): number {
	return travelMm / (Math.PI * diameterMm);
}

/** Share of the pot's track that is used; above 1 it ends before the finger does. */
export function trackShare(travelMm: number, diameterMm: number, electricalAngleDeg: number): number {
	return spoolAngleDeg(travelMm, diameterMm) / electricalAngleDeg;
}

/** Counts between open hand and fist. What lies beyond the track adds none. */
export function spanCounts(share: number, fullScale: number): number {
	return Math.min(1, share) * fullScale;
}

/** Counts for one degree of the spool. */
export function countsPerDegree(fullScale: number, electricalAngleDeg: number): number {
	return fullScale / electricalAngleDeg;
}

/** Degrees of the spool for one count: the resolution. */
export function degreesPerCount(fullScale: number, electricalAngleDeg: number): number {
	return electricalAngleDeg / fullScale;
}

/** Cord for one count, mm. */
export function cordPerCountMm(diameterMm: number, fullScale: number, electricalAngleDeg: number): number {
	return ((Math.PI * diameterMm) / 360) * degreesPerCount(fullScale, electricalAngleDeg);
}

/** Spool diameter, mm, with which a cord travel uses a share of the track. */
export function diameterForShareMm(travelMm: number, electricalAngleDeg: number, share: number): number {
	return travelMm / (Math.PI * share * (electricalAngleDeg / 360));
}
