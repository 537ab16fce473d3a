/** Everything Spanish, in one piece that is fetched when it is wanted: who reads English need not
 *  wait for it. */
export { app_es } from './app_es';
export { es } from './es';
export { spanish } from './said_es';
