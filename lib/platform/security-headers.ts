/**
 * Headers of every answer. Scripts run only with the nonce of their page. Styles may stand in pages, because the
 * component library puts measures there; they load nothing from elsewhere.
 */
export function securityHeaders(answer: {
  nonce: string;
  /** A page, in difference to an answer of the API. */
  isPage: boolean;
  /** The development server evaluates its own updates. */
  isDev: boolean;
  isHttps: boolean;
}): Record<string, string> {
  return {
    'content-security-policy': answer.isPage ? pagePolicy(answer) : "base-uri 'none'; frame-ancestors 'none'",
    'x-content-type-options': 'nosniff',
    'x-frame-options': 'DENY',
    'referrer-policy': 'same-origin',
    'cross-origin-opener-policy': 'same-origin',
    'cross-origin-resource-policy': 'same-origin',
    // The camera reads codes at the shelf, the place of a find may come from the phone, a line may be spoken.
    'permissions-policy': 'camera=(self), geolocation=(self), microphone=(self), payment=(), usb=()',
    ...(answer.isHttps ? { 'strict-transport-security': 'max-age=31536000' } : {}),
  };
}

function pagePolicy({ nonce, isDev }: { nonce: string; isDev: boolean }): string {
  return [
    "default-src 'self'",
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic'${isDev ? " 'unsafe-eval'" : ''}`,
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    `connect-src 'self'${isDev ? ' ws:' : ''}`,
    "media-src 'self' blob:",
    // Without it the rule for scripts would hold, and 'strict-dynamic' knows no address.
    "worker-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; ');
}
