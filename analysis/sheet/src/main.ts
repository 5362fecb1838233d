// Builds the page from the data in it.
import { embedded, type Guide } from "./data";
import { h } from "./dom";
import { page_frame } from "./frame";
import { evidence_section } from "./evidence";
import { exercise } from "./exercise";
import { replay_section } from "./replay";
import { work_section } from "./work";

const guide = embedded<Guide>("data");
const main = h("main", { id: "main", tabindex: -1 });
document.body.append(...page_frame(guide, main));

const parts = () => [work_section(guide), evidence_section(guide)];
if (guide.exercise && guide.films.length > 1) exercise(guide, main, (pick) => main.append(replay_section(guide, pick), ...parts()));
else main.append(...parts(), replay_section(guide, 0));
