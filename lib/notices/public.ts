export { announce } from './service/announce';
