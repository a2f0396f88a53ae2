/** The words of dwc:verbatimCoordinateSystem, with the grid and the fixed-width form beside them. */
export type CoordinateSystem =
  | 'decimal degrees'
  | 'degrees decimal minutes'
  | 'degrees minutes seconds'
  | 'UTM'
  | 'MGRS'
  | 'ISO 6709';

export interface ParsedCoordinates {
  /** Decimal degrees on the datum the text was written for; no datum shift is made. */
  latitude: number;
  longitude: number;
  system: CoordinateSystem;
  /** The text exactly as it was given. */
  verbatim: string;
  /** Step of the coarser of the two numbers as written, in degrees; null for grid references. */
  precisionDegrees: number | null;
  /** Side of the grid square in metres; null for degrees. */
  gridSizeM: number | null;
  /** What a person should look at; empty when nothing is odd. */
  remarks: string[];
}
