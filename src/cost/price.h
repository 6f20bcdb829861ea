/* price.h: what a piece that cost so much must be sold for. */
#ifndef KILNSTOW_COST_PRICE_H
#define KILNSTOW_COST_PRICE_H

#include "kilnstow/cost.h"

/* Fills the prices of a copy from its total. Wholesale is cost by its factor and retail wholesale
 * by its own, both rounded up to a multiple of the terms' step. Tax outside: the customer pays it
 * on top of retail; inside: retail holds it, so that as much is left of it. Consignment is the
 * ticket that leaves the wholesale price when the shop's commission is off, and tax before it where
 * tickets hold it. */
void ks_piece_price(const ks_money_terms *terms, ks_piece_cost *cost);

#endif
