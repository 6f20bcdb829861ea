/* densities.h: what ware, slabs and beds weigh, kg/m3 in bulk, for every room that weighs them. */
#ifndef KILNSTOW_STUDIO_DENSITIES_H
#define KILNSTOW_STUDIO_DENSITIES_H

/* Fired stoneware; common practice, no source. */
#define KS_STONEWARE_KG_M3 2200
/* Dry clay as a slab is made of it; common practice, no source. */
#define KS_RAW_CLAY_KG_M3 1900
/* Loose grog or sand in a bed; common practice, no source. */
#define KS_GROG_KG_M3 1200

#endif
