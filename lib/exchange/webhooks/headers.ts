/** Headers of a delivery; the page of the API describes them. */
export const DELIVERY_HEADER = 'furcula-delivery';
export const TIMESTAMP_HEADER = 'furcula-timestamp';
export const SIGNATURE_HEADER = 'furcula-signature';
