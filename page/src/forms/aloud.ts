import { language } from '../texts/say.svelte';

/** What was typed, said back: eyes stay on the screw. Silent where the phone has no voice. */
export function say_aloud(text: string): void {
  if (typeof speechSynthesis === 'undefined') return;
  speechSynthesis.cancel();
  const said = new SpeechSynthesisUtterance(text);
  said.lang = language();
  speechSynthesis.speak(said);
}
