export * from './public-rules';
export { findPlaceFacts, searchPlaces } from './service';
