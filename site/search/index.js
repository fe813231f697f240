bayleaf.index({"b":[],"chunks":"$##","f":["a"],"mark":"c04e5a566d","r":[],"s":"","steps":"?7A:","t":["0.019","=6600_1e2_1e2_5e-1","functions","seat"]});
