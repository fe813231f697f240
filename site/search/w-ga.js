bayleaf.words("ga",{"gap":"1:9;3:8,b,g","gasket":"2:0,k","gauge":"2:0,e;3:0,e","gauges":"1:0,8,9"});
