/** The views beside the counter and the day plan, in the order of their tabs. */
import { chartWords } from "../../messages/charts.js";
import type { View } from "./contract.js";
import { counterCardView } from "./counter-card.js";
import { pictureView } from "./picture.js";
import { tableView } from "./table-view.js";
import { wallChartView } from "./wall-chart.js";

export const views: readonly View[] = [
  { id: "picture", title: chartWords.picture, make: pictureView },
  { id: "table", title: chartWords.table, make: tableView },
  { id: "wall", title: chartWords.wall, make: wallChartView },
  { id: "card", title: chartWords.card, make: counterCardView },
];
