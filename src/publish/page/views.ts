/** The views beside the counter and the day plan, in the order of their tabs. */
import { say } from "../../messages/charts.js";
import type { View } from "./contract.js";
import { counterCardView } from "./counter-card.js";
import { pictureView } from "./picture.js";
import { tableView } from "./table-view.js";
import { wallChartView } from "./wall-chart.js";

export const views: readonly View[] = [
  { id: "picture", title: say.picture, make: pictureView },
  { id: "table", title: say.table, make: tableView },
  { id: "wall", title: say.wall, make: wallChartView },
  { id: "card", title: say.card, make: counterCardView },
];
