bayleaf.words("ge",{"gear":"2:u;3:k","gears":"3:k"});
