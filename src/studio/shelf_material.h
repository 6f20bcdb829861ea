/* shelf_material.h: what shelves are made of, as weighed and as strong. How it takes heat stands in
 * fire/physics/materials.c. */
#ifndef KILNSTOW_STUDIO_SHELF_MATERIAL_H
#define KILNSTOW_STUDIO_SHELF_MATERIAL_H

/* As kiln files name them. */
#define KS_SHELF_MATERIAL_WORDS "cordierite|mullite|silicon carbide|alumina"

/* kg/m3 in bulk. Typical of the makers' range of 1800 to 2400. */
#define KS_CORDIERITE_KG_M3 1950
/* From memory. */
#define KS_MULLITE_KG_M3 2400
/* Weighed: a nitride-bonded shelf of 305 x 610 x 8 mm is 4.1 kg, potters' forum. */
#define KS_SILICON_CARBIDE_KG_M3 2780
/* Weighed: a dry-pressed shelf of 305 x 610 x 25 mm is 15.0 kg, potters' forum. */
#define KS_ALUMINA_KG_M3 3150

typedef struct {
    const char *name;
    double density_kg_m3;
    double hot_mpa;  /* hot modulus of rupture */
    double part;     /* of it that a shelf bears for long: creep decides */
    double part_hot; /* and from cone 8 */
} ks_shelf_material;

/* Hot strength of cordierite at 1200 C and nitride-bonded silicon carbide at 1350 C from makers'
 * sheets, of the others typical, no source; the parts common practice, no source. */
#define KS_SHELF_MATERIALS                                                                         \
    {"cordierite", KS_CORDIERITE_KG_M3, 9.8, 0.1, 0.05},                                           \
        {"mullite", KS_MULLITE_KG_M3, 10, 0.1, 0.05},                                              \
        {"silicon carbide", KS_SILICON_CARBIDE_KG_M3, 40, 0.2, 0.2},                               \
        {"alumina", KS_ALUMINA_KG_M3, 12, 0.1, 0.05},

/* NULL: there is none of that name, or none is told (NULL). */
const ks_shelf_material *ks_shelf_material_find(const char *name);

#endif
