bayleaf.words("ar",{"arch":"3:0,7,g","arches":"2:6;3:7","are":"2:u;3:b","arm":"1:0,e","arms":"2:5,p","around":"3:3","arrow":"0:8;1:9,a,c"});
