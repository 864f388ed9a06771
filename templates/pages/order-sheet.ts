import type { OrderItem, PageData } from "../../src/pages/types.ts";

/**
 * The small style sheet of an episode: how long each row of its running order is, and how long from its in point to the
 * next whole minute. Numbers alone: a page may carry no style attributes.
 */
export const orderSheet = ({ order }: PageData["order-sheet"]): string =>
  ["@layer parts {", ...order.items.map(rule), "}", ""].join("\n");

const rule = ({ in: at, seconds }: OrderItem, index: number): string =>
  `  .order-item:nth-child(${index + 1}) { --dur: ${inCss(seconds)}; --phase: ${inCss((60 - (at % 60)) % 60)}; }`;

const inCss = (seconds: number): string => String(Math.round(Math.max(seconds, 0) * 1000) / 1000);
