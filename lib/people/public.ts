export { listPeople } from './service';
