/* densities.h: what furniture and beds weigh, kg/m3 in bulk, for every room that weighs them. */
#ifndef KILNSTOW_STUDIO_DENSITIES_H
#define KILNSTOW_STUDIO_DENSITIES_H

/* Typical of the makers' range of 1800 to 2400. */
#define KS_CORDIERITE_KG_M3 1950
/* From memory. */
#define KS_MULLITE_KG_M3 2400
/* Weighed: a nitride-bonded shelf of 305 x 610 x 8 mm is 4.1 kg, potters' forum. */
#define KS_SILICON_CARBIDE_KG_M3 2780
/* Weighed: a dry-pressed shelf of 305 x 610 x 25 mm is 15.0 kg, potters' forum. */
#define KS_ALUMINA_KG_M3 3150
/* Fired stoneware; common practice, no source. */
#define KS_STONEWARE_KG_M3 2200
/* Dry clay as a slab is made of it; common practice, no source. */
#define KS_RAW_CLAY_KG_M3 1900
/* Loose grog or sand in a bed; common practice, no source. */
#define KS_GROG_KG_M3 1200

#endif
