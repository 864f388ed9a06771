import { orderSheet } from "./pages/order-sheet.ts";
import { type Given, paged } from "./parts/paged.tsx";

export const data = paged("order-sheet");
export const render = ({ entry }: Given<"order-sheet">): string => orderSheet(entry.page);
