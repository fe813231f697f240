bayleaf.words("ex",{"exhaust":"0:s;2:l","expanding":"2:0,6,o;3:0,7,g"});
