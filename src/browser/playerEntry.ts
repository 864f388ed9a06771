import { startPlayer } from "./player.ts";

const player = document.querySelector<HTMLElement>("section.deck");
if (player !== null) startPlayer(player);
