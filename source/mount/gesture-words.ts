/** Poses that are held, and what is up in each: the back of the hand, its thumb side, the end away from the fingertips. */
export const gestureNames = ['palm-down', 'thumb-up', 'fingers-down'] as const;
export type GestureName = (typeof gestureNames)[number];

/** The poses are done twice in this order. */
export const gestureOrder: readonly GestureName[] = [...gestureNames, ...gestureNames];

/**
 * Right-handed spaces: x to the right seen along the fingers with the palm down, y out of the back of the hand, z from
 * the fingertips to the wrist. Left-handed ones have z the other way: no rotation takes one kind of axes to the other.
 */
export const handednesses = ['right-handed', 'left-handed'] as const;
export type Handedness = (typeof handednesses)[number];
