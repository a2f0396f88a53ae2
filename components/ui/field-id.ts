/** 'measurements.0.lengthMm' → 'field-measurements-0-lengthMm': the id of the control of a field. */
export const fieldId = (path: string): string => `field-${path.replace(/[^A-Za-z0-9_-]+/g, '-')}`;
