#include "cost/price.h"

#include "cost/fine.h"

#include <math.h>

static int64_t rounded_up(double minor, int64_t step)
{
    int64_t whole = llround(minor);
    return step > 1 ? (whole + step - 1) / step * step : whole;
}

void ks_piece_price(const ks_money_terms *terms, ks_piece_cost *cost)
{
    int64_t step = terms->round_to_minor;
    double wholesale = (double)cost->total / KS_FINE * terms->wholesale_factor;
    double held = terms->tax_inside ? 1 + terms->tax : 1;
    cost->cost_minor = ks_fine_minor(cost->total);
    if (!cost->worked) {
        cost->wholesale_minor = cost->retail_minor = cost->consignment_minor = KS_NO_PRICE;
        cost->shop_minor = cost->tax_minor = KS_NO_PRICE;
        return;
    }
    cost->wholesale_minor = rounded_up(wholesale, step);
    cost->retail_minor = rounded_up(wholesale * terms->retail_factor * held, step);
    cost->consignment_minor =
        rounded_up((double)cost->wholesale_minor / (1 - terms->commission) * held, step);
    double net = (double)cost->retail_minor / held;
    cost->tax_minor = llround(net * terms->tax);
    cost->shop_minor = cost->retail_minor + (terms->tax_inside ? 0 : cost->tax_minor);
}

double ks_piece_margin(const ks_order *order, const ks_piece_cost *cost)
{
    const ks_money_terms *terms = order->money;
    double held = terms->tax_inside ? 1 + terms->tax : 1;
    double kept = (double)order->pieces[cost->piece].price_minor / held;
    return kept > 0 ? (kept - (double)cost->total / KS_FINE) / kept : (double)NAN;
}

int64_t ks_break_even(const ks_plan *plan, const ks_costing *costing, const ks_piece_cost *cost,
                      int64_t kept_minor)
{
    const ks_money_terms *terms = plan->order->money;
    double left = (double)kept_minor - (double)cost->own / KS_FINE;
    double due = (double)costing->loads[cost->load].total_minor * (1 + terms->overhead);
    if (!(left > 0))
        return -1;
    double n = ceil(due / left);
    return n < 1e9 ? (int64_t)n : -1;
}
