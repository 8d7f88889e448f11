/** The four categories of NAMUR NE 107 (shared vocabulary of the process industry; check-values T7). */
export type Status = 'failure' | 'out-of-spec' | 'maintenance' | 'function-check';
