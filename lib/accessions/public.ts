export { makeAccession } from './service';
