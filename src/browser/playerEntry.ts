import { startPlayer } from "./player.ts";
import { quoteWhenWanted } from "./quoteWhenWanted.ts";

const player = document.querySelector<HTMLElement>("section.deck");
const { copyMoment } = quoteWhenWanted();
if (player !== null) startPlayer(player, copyMoment);
