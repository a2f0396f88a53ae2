export type Point = readonly [x: number, y: number];
export type Line = readonly [x1: number, y1: number, x2: number, y2: number];

/** A bone as drawn on the plate, the left one where it is paired. Paths use absolute M, L, C and Z only. */
export interface BoneShape {
  outline: string;
  /** Thin lines inside: joints, sutures, holes for vessels. */
  detail?: string;
  /** Where it is cut in two; going from first to second end, the proximal part is on the right hand. */
  cut?: Line;
  /** The x about which the right one mirrors; absent: the bird's midline. */
  axis?: number;
  /** The outline's inner paths are holes. */
  hollow?: true;
}
