from .order import Design, Order, keep_sizes, new_order, open_order, order_from_list

__all__ = ["Design", "Order", "keep_sizes", "new_order", "open_order", "order_from_list"]
