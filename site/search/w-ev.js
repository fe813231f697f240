bayleaf.words("ev",{"every":"0:1,9,g;2:t;3:b,d","everybody":"1:j"});
