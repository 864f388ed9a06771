import { startDeck } from "./deck.ts";

const deck = document.querySelector<HTMLElement>("section.deck");
if (deck !== null) startDeck(deck);
