/* plate.h: how much a plate that lies on posts bends under a load spread over it. */
#ifndef KILNSTOW_STUDIO_PLATE_H
#define KILNSTOW_STUDIO_PLATE_H

#include "kilnstow/shape.h"

/* Greatest stress on its underside is this times the load over the square of the thickness; the
 * load is spread over all of it, or over what of it lies under `loaded`. A thin elastic plate of
 * Poisson's ratio 0.2, carried at the posts' middles and free at its edges, by the method of Ritz
 * with polynomials of degree 8 (S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and
 * Shells, 1959, chapter 10, from memory); within some 5 % of polynomials of degree 16. The peak on
 * its upper side over a post is left out: it is local, and creep evens it out. A post that would
 * have to pull does not count. Infinity: fewer than three posts, or all on one line. */
double ks_plate_bending(const ks_outline *plate, const ks_outline *loaded, int n_posts,
                        const ks_point *posts, ks_arena *arena);

#endif
