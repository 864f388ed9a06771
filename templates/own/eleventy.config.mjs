/** What this station adds to its site. */
export default function (config) {
  config.addPassthroughCopy("assets");
  config.addFilter("newest", (segments, count) => segments.filter(({ withdrawn }) => !withdrawn).slice(0, count));
}
