/* hollow.h: the room inside a thrown form, and the blocks by height of one that may nest. */
#ifndef KILNSTOW_STUDIO_FORMS_HOLLOW_H
#define KILNSTOW_STUDIO_FORMS_HOLLOW_H

#include "studio/parts.h"

/* A form thrown to straight lines between points of (height, radius), as ks_profile_bands has it,
 * and what is known of its inside. */
typedef struct {
    const ks_point *profile;
    int n;
    double wall_mm;  /* square to the outer surface */
    double floor_mm; /* where the room inside it begins */
} ks_hollow_form;

/* Least radius of the room inside between two heights, mm: as far from the outer surface as the
 * wall is thick, the rim cut flat. 0 below the floor, and where there is none. */
double ks_hollow_radius_mm(const ks_hollow_form *form, double from_mm, double to_mm);

/* Widest radius of the outer surface between two heights, mm. */
double ks_form_radius_mm(const ks_hollow_form *form, double from_mm, double to_mm);

/* Discs with their hollows, foot first: outer ones enclose the form, inner ones lie within the
 * room. At most KS_HOLLOW_BANDS, finest where one form comes to rest in another like it. */
enum { KS_HOLLOW_BANDS = 80 };
/* Bowls up to some 90 mm tall nest no higher for their steps than this, mm. */
#define KS_HOLLOW_LOSS_MM 1.0
void ks_hollow_bands(const ks_hollow_form *form, ks_part_list *list);

/* One block of a piece known by its plan alone, with steps of room in it: straight from a disc on
 * the floor to one at the rim. */
typedef struct {
    double from_mm, to_mm, floor_mm, low_r_mm, high_r_mm;
} ks_hollow_cone;
void ks_hollow_cone_add(const ks_hollow_cone *room, const ks_outline *body, ks_part_list *list);

#endif
