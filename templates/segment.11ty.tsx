import { SegmentAlone } from "./pages/segment.tsx";
import { document, paged } from "./parts/paged.tsx";

export const data = paged("segment");
export const render = document<"segment">((page) => <SegmentAlone page={page} />);
