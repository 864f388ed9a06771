/** What a station's code gets when it imports Eleventy: the very one that runs it, so that there are not two. */
export * from "@11ty/eleventy";
export { default } from "@11ty/eleventy";
