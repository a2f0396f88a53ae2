// @ts-check
/** Headers of every answer, page or not. Not TypeScript: next.config.mjs reads them. */
export const ALWAYS = {
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'referrer-policy': 'same-origin',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  // The camera reads codes at the shelf, the place of a find may come from the phone, a line may be spoken.
  'permissions-policy': 'camera=(self), geolocation=(self), microphone=(self), payment=(), usb=()',
};

/** Headers of what the API answers. That HTTPS is to be asked for ever after, the pages say. */
export const API_HEADERS = {
  ...ALWAYS,
  'content-security-policy': "base-uri 'none'; frame-ancestors 'none'",
};
