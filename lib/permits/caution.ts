export const legalCaution =
  'This is information, not legal advice: the issuing office decides, and local rules decide beside it.';
