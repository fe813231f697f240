bayleaf.index({"b":[],"chunks":"$##","f":["a"],"mark":"56a3fa1570","r":[],"s":"","steps":"?7A:","t":["0.019","=6599_9.979032e1_9.979032e1_2.267962e-1","ft","screwdriver"]});
