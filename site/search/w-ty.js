bayleaf.words("ty",{"type":"2:v;3:0,b"});
